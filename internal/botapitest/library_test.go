package botapitest_test

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"shopfloat/internal/botapitest"
)

const ann = 1001

// start serves a stand-in until the test ends.
func start(t *testing.T, opts botapitest.Options) *botapitest.Server {
	t.Helper()
	srv := botapitest.New(opts)
	if err := srv.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(srv.Close)
	return srv
}

// testContext ends long before the test runner would, so that a broken wait names its line.
func testContext(t *testing.T) context.Context {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Second)
	t.Cleanup(cancel)
	return ctx
}

func library(t *testing.T, srv *botapitest.Server, opts ...bot.Option) *bot.Bot {
	t.Helper()
	opts = append([]bot.Option{
		bot.WithServerURL(srv.URL()), bot.WithNotAsyncHandlers(), bot.WithWorkers(1),
		bot.WithErrorsHandler(func(err error) { t.Log("library:", err) }),
	}, opts...)
	b, err := bot.New(srv.Token(), opts...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// run polls until the test ends.
func run(t *testing.T, b *bot.Bot) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan struct{})
	go func() { b.Start(ctx); close(ended) }()
	t.Cleanup(func() { cancel(); <-ended })
}

// card answers a text with two buttons and a tap with an edit.
func card(t *testing.T) bot.HandlerFunc {
	return func(ctx context.Context, b *bot.Bot, u *models.Update) {
		ctx = context.WithoutCancel(ctx) // the test may end between an effect and its answer
		if u.Message != nil {
			_, err := b.SendMessage(ctx, &bot.SendMessageParams{
				ChatID: u.Message.Chat.ID, Text: "You wrote <b>" + u.Message.Text + "</b>",
				ParseMode: models.ParseModeHTML,
				ReplyMarkup: &models.InlineKeyboardMarkup{InlineKeyboard: [][]models.InlineKeyboardButton{{
					{Text: "Yes", CallbackData: "y"}, {Text: "No", CallbackData: "n"}}}},
			})
			if err != nil {
				t.Error(err)
			}
			return
		}
		q := u.CallbackQuery
		if _, err := b.AnswerCallbackQuery(ctx, &bot.AnswerCallbackQueryParams{
			CallbackQueryID: q.ID, Text: "Noted"}); err != nil {
			t.Error(err)
		}
		if _, err := b.EditMessageText(ctx, &bot.EditMessageTextParams{
			ChatID: q.From.ID, MessageID: q.Message.Message.ID, Text: "You chose " + q.Data}); err != nil {
			t.Error(err)
		}
	}
}

// The real library, go-telegram/bot v1.19.0, holds a short conversation: text, card with buttons, tap, edit.
func TestLibraryConversation(t *testing.T) {
	srv := start(t, botapitest.Options{})
	srv.AddUser(ann, "Ann")
	run(t, library(t, srv, bot.WithDefaultHandler(card(t))))
	ctx := testContext(t)

	srv.SendText(ann, "hello")
	m, err := srv.WaitForText(ctx, ann, "You wrote hello")
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Entities) != 1 || m.Entities[0] != (botapitest.Entity{Type: "bold", Offset: 10, Length: 5}) {
		t.Errorf("entities = %+v", m.Entities)
	}
	if _, err := srv.Tap(ann, m.ID, "Yes"); err != nil {
		t.Fatal(err)
	}
	m, err = srv.WaitForText(ctx, ann, "You chose y")
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Buttons) != 0 || len(m.Edits) != 1 || len(m.Edits[0].Buttons[0]) != 2 {
		t.Errorf("after the edit: %+v", m)
	}
	if got := srv.Answers(ann); len(got) != 1 || got[0].Text != "Noted" {
		t.Errorf("answers = %+v", got)
	}
	r := srv.Report()
	if r.Calls["getMe"] != 1 || r.Calls["sendMessage"] != 1 || len(r.Unanswered) != 0 || r.TokenSeen != 0 {
		t.Errorf("report = %+v", r)
	}
}

// Typed errors of the library come out as it promises (FACTS.md D3, 16 and 17).
func TestLibraryErrors(t *testing.T) {
	srv := start(t, botapitest.Options{})
	srv.AddUser(ann, "Ann")
	srv.AddGroup(-50, "Shop")
	srv.Migrate(-50, -1_000_000_000_050)
	b := library(t, srv)
	say := func(chat int64) error {
		_, err := b.SendMessage(testContext(t), &bot.SendMessageParams{ChatID: chat, Text: "hello"})
		return err
	}

	srv.Inject(botapitest.Fault{Kind: botapitest.TooManyRequests, Chat: ann, RetryAfter: 7})
	var flood *bot.TooManyRequestsError
	if err := say(ann); !errors.As(err, &flood) || flood.RetryAfter != 7 {
		t.Errorf("429: %v", err)
	}
	var moved *bot.MigrateError
	if err := say(-50); !errors.As(err, &moved) || moved.MigrateToChatID != -1_000_000_000_050 {
		t.Errorf("migration: %v", err)
	}
	srv.SetState(ann, botapitest.Blocked)
	if err := say(ann); !errors.Is(err, bot.ErrorForbidden) {
		t.Errorf("blocked: %v", err)
	}
	srv.RevokeToken()
	if err := say(ann); !errors.Is(err, bot.ErrorUnauthorized) {
		t.Errorf("revoked: %v", err)
	}
}

// Uploads and downloads through the library.
func TestLibraryFiles(t *testing.T) {
	srv := start(t, botapitest.Options{})
	srv.AddUser(ann, "Ann")
	b := library(t, srv)
	m, err := b.SendDocument(testContext(t), &bot.SendDocumentParams{
		ChatID: ann, Caption: "<i>May</i>", ParseMode: models.ParseModeHTML,
		Document: &models.InputFileUpload{Filename: "may.csv", Data: bytes.NewReader([]byte("a;b\n"))}})
	if err != nil {
		t.Fatal(err)
	}
	if m.Document.FileName != "may.csv" || m.Caption != "May" ||
		string(srv.File(m.Document.FileID)) != "a;b\n" {
		t.Errorf("document = %+v, caption %q", m.Document, m.Caption)
	}
	f, err := b.GetFile(testContext(t), &bot.GetFileParams{FileID: m.Document.FileID})
	if err != nil {
		t.Fatal(err)
	}
	if link := b.FileDownloadLink(f); !strings.HasPrefix(link, srv.URL()+"/file/bot") {
		t.Errorf("link %q", link)
	}
}
