// Command naive is what the load program compares the bot with: a bot as the
// library's examples would have it, a handler for each update and a
// transaction in each handler, on the same dialogs, and keeping the same
// records in the same tables. With -fair it does what a careful author would do next: statements are
// prepared once, and settings are read once. It loses updates when it is killed, keeps no
// order and sends without an outbox; it is here to be measured, not to be used.
package main

import (
	"context"
	"database/sql"
	"flag"
	"fmt"
	"log"
	"os"
	"os/signal"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"
	_ "modernc.org/sqlite"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/shop"
	"shopfloat/internal/telegram"
	"shopfloat/internal/texts"
)

func main() {
	fair := flag.Bool("fair", false, "prepare statements once and keep each shop's settings in memory")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, *fair); err != nil {
		log.Fatal(err)
	}
}

func run(ctx context.Context, fair bool) error {
	db, err := sql.Open("sqlite", "file:"+os.Getenv("SHOPFLOAT_DB")+
		"?_txlock=immediate&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=busy_timeout(5000)")
	if err != nil {
		return err
	}
	defer func() { _ = db.Close() }()
	db.SetMaxOpenConns(1) // SQLite has one writer; more connections only wait for each other
	catalogue, err := texts.Load()
	if err != nil {
		return err
	}
	s := &server{db: db, step: dialogs.New(catalogue).Step, cards: map[string]int{}, fair: fair,
		prepared: map[string]*sql.Stmt{}, known: map[chat.Chat]member{}}
	if fair {
		if err := s.prepare(ctx); err != nil {
			return err
		}
	}
	b, err := bot.New(os.Getenv("SHOPFLOAT_TOKEN"),
		bot.WithServerURL(os.Getenv("SHOPFLOAT_API_URL")), bot.WithDefaultHandler(s.handle))
	if err != nil {
		return err
	}
	b.Start(ctx)
	return nil
}

// server answers updates.
type server struct {
	db   *sql.DB
	step func(chat.State, chat.Input, chat.Facts) chat.Result
	fair bool

	mu       sync.Mutex
	cards    map[string]int       // message ids by chat and key
	prepared map[string]*sql.Stmt // by text, before the first update; with fair only
	known    map[chat.Chat]member // with fair only: nobody changes settings in a load run
}

// member is somebody of a shop.
type member struct {
	shop   *shop.Shop
	person shop.PersonID
}

// handle is the library's handler for everything.
func (s *server) handle(ctx context.Context, b *bot.Bot, u *models.Update) {
	in, ok := input(u)
	if !ok {
		return
	}
	res, err := s.book(ctx, in, u.ID)
	if err != nil {
		log.Print("update ", u.ID, ": ", err)
		return
	}
	if q := u.CallbackQuery; q != nil {
		_, err = b.AnswerCallbackQuery(ctx, &bot.AnswerCallbackQueryParams{CallbackQueryID: q.ID, Text: res.Notice})
		if err != nil {
			log.Print("answer: ", err)
		}
	}
	for _, r := range res.Replies {
		if r.To != (chat.Audience{}) {
			continue // nobody but the owner has an account in a load run
		}
		if err := s.send(ctx, b, in.Chat, r); err != nil {
			log.Print("send: ", err)
		}
	}
}

func input(u *models.Update) (in chat.Input, ok bool) {
	switch {
	case u.Message != nil:
		in.Kind, in.Text, in.Chat = chat.Text, u.Message.Text, chatOf(u.Message.Chat.ID)
	case u.CallbackQuery != nil:
		in.Kind, in.Tap, in.Chat = chat.Press, u.CallbackQuery.Data, chatOf(u.CallbackQuery.From.ID)
	}
	in.At = time.Now()
	return in, in.Chat != ""
}

func chatOf(id int64) chat.Chat { return chat.Chat(fmt.Sprintf("tg:%d", id)) }

// send sends a reply, or edits the message it names.
func (s *server) send(ctx context.Context, b *bot.Bot, to chat.Chat, r chat.Reply) error {
	m, id := telegram.Encode(r), strings.TrimPrefix(string(to), "tg:")
	var markup models.ReplyMarkup
	if m.Keyboard != nil {
		markup = m.Keyboard
	}
	s.mu.Lock()
	card := s.cards[id+r.Edit]
	s.mu.Unlock()
	var sent *models.Message
	var err error
	if r.Edit != "" && card != 0 {
		sent, err = b.EditMessageText(ctx, &bot.EditMessageTextParams{
			ChatID: id, MessageID: card, Text: m.Text, ParseMode: models.ParseModeHTML, ReplyMarkup: markup,
		})
	} else {
		sent, err = b.SendMessage(ctx, &bot.SendMessageParams{
			ChatID: id, Text: m.Text, ParseMode: models.ParseModeHTML, ReplyMarkup: markup,
		})
	}
	if err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, key := range []string{r.Key, r.Edit} {
		if key != "" {
			s.cards[id+key] = sent.ID
		}
	}
	return nil
}
