package telegram

import (
	"context"
	"errors"
	"log/slog"
	"net/url"
	"strings"
	"sync/atomic"
	"time"

	"github.com/go-telegram/bot"
	"github.com/go-telegram/bot/models"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// PublicURL is the platform's own server.
const PublicURL = "https://api.telegram.org"

// ErrToken ends [Bot.Run]: going on would fail for ever.
var ErrToken = errors.New("the chat server does not know this bot: check the token (SHOPFLOAT_TOKEN) and " +
	"the server's address (SHOPFLOAT_API_URL), then start again")

// Command is a line of the menu that the chat offers.
type Command struct{ Name, Text string }

// Options are what a [Bot] needs. All are required but Reached, Seen, Sleep, Commands and Draw.
type Options struct {
	Token string
	URL   string // of the server, without the token
	// Take stores and steps updates; it returns when they have taken effect.
	Take func(context.Context, []desk.Raw) ([]desk.Notice, error)
	// Reached is called once the bot's name is known, so that a Link can be made. May be nil.
	Reached func()
	// Redraw shows open cards again, but those drawn since the server was reached
	// again. It is called when polls went unanswered for longer than a tap lives,
	// once all that waited has been taken.
	Redraw func(ctx context.Context, since time.Time) error
	// Seen is when everything sent had last been taken; zero when that is not known.
	Seen time.Time
	// Caught is told so, every few seconds, to be remembered for Seen.
	Caught func(time.Time)
	Now    func() time.Time
	// Sleep waits; it returns the context's error when that ends first. Nil: by a timer.
	Sleep       func(context.Context, time.Duration) error
	PrivateOnly string // what a group is told
	Commands    []Command
	Log         *slog.Logger
	// Draw makes a PNG of a chart or a sheet that goes with a message. Nil: such a message goes without.
	Draw func(*chat.File) ([]byte, error)
}

// Bot is a connection to the server for one token.
type Bot struct {
	options Options
	client  *client
	sender  sender
	errands *errands
	tap     *tap
	lib     *bot.Bot
	name    atomic.Pointer[string] // the bot's, without @
	log     *slog.Logger
}

// Check looks at a token and a server's address without calling the server. One
// that cannot be one is an error, which holds neither.
func Check(token, address string) error {
	u, err := url.Parse(address)
	if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" {
		return errors.New("the server's address (SHOPFLOAT_API_URL) must look like " + PublicURL)
	}
	if !validToken(token) {
		return errors.New("the token (SHOPFLOAT_TOKEN) must look like 123456:letters-and-digits")
	}
	return nil
}

// New makes a Bot without calling the server. Its error is that of [Check].
func New(o Options) (*Bot, error) {
	err := Check(o.Token, o.URL)
	if err != nil {
		return nil, err
	}
	if o.Sleep == nil {
		o.Sleep = sleep
	}
	c, err := newClient(o.URL, o.Token)
	if err != nil {
		return nil, err
	}
	b := &Bot{options: o, client: c, log: o.Log, sender: sender{c, o.Log, o.Draw}}
	b.errands = newErrands(c, o.PrivateOnly, o.Log)
	b.tap = &tap{Bot: b, stop: func(error) {}, seen: o.Seen}
	b.lib, err = bot.New(o.Token,
		bot.WithServerURL(c.url),
		bot.WithHTTPClient(pollWait+time.Second, b.tap), // the library asks for a second less
		bot.WithSkipGetMe(),
		bot.WithNotAsyncHandlers(),
		bot.WithDefaultHandler(func(context.Context, *bot.Bot, *models.Update) {}), // all is done by now
		bot.WithErrorsHandler(func(err error) { o.Log.Debug("library", "why", err) }),
		bot.WithAllowedUpdates(bot.AllowedUpdates{
			models.AllowedUpdateMessage, models.AllowedUpdateEditedMessage,
			models.AllowedUpdateCallbackQuery, models.AllowedUpdateMyChatMember,
		}),
	)
	if err != nil {
		return nil, errors.New("the bot library refuses the settings")
	}
	return b, nil
}

// validToken also keeps out what would change the meaning of an address.
func validToken(token string) bool {
	number, secret, ok := strings.Cut(token, ":")
	return ok && number != "" && secret != "" && strings.Trim(number, "0123456789") == "" &&
		strings.IndexFunc(secret, func(r rune) bool {
			return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-')
		}) < 0
}

// Current reports whether all that people sent has been taken, as far as can be
// known: reminders are to wait until then, since what was done in time may be
// on its way.
func (b *Bot) Current() bool { return b.tap.current.Load() }

// Polled is when the server last answered a poll; zero: not yet.
func (b *Bot) Polled() time.Time {
	if at := b.tap.last.Load(); at != 0 {
		return time.Unix(0, at)
	}
	return time.Time{}
}

// Send delivers one message of the outbox; see [desk.Sender].
func (b *Bot) Send(ctx context.Context, out desk.Out) (int64, error) { return b.sender.Send(ctx, out) }

// Run fetches updates until ctx is done, and then returns nil; or until the
// server refuses the token, and then returns [ErrToken].
func (b *Bot) Run(ctx context.Context) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	b.tap.stop = stop
	b.reach(ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		b.errands.run(ctx)
	}()
	go b.publish(ctx)
	b.lib.Start(ctx)
	<-done
	if err := context.Cause(ctx); errors.Is(err, ErrToken) {
		return err
	}
	return nil
}

// reach makes sure that the server lets updates be fetched, and learns the
// bot's name. No update is dropped.
func (b *Bot) reach(ctx context.Context) {
	b.insist(ctx, b.unhook)
	b.insist(ctx, func(ctx context.Context) error {
		me, err := b.lib.GetMe(ctx)
		if err == nil {
			b.name.Store(&me.Username)
			if b.options.Reached != nil {
				b.options.Reached()
			}
			b.log.Info("serving", "bot", "@"+me.Username)
		}
		return err
	})
}

func (b *Bot) unhook(ctx context.Context) error {
	_, err := b.lib.DeleteWebhook(ctx, &bot.DeleteWebhookParams{})
	return err
}

// insist makes a call until it goes through, the token is refused or ctx is done.
func (b *Bot) insist(ctx context.Context, call func(context.Context) error) {
	for wait := time.Second; ctx.Err() == nil; wait = min(2*wait, 30*time.Second) {
		err := call(ctx)
		var busy *bot.TooManyRequestsError
		switch {
		case err == nil, ctx.Err() != nil:
			return
		case errors.Is(err, bot.ErrorUnauthorized), errors.Is(err, bot.ErrorNotFound):
			b.tap.stop(ErrToken)
			return
		case errors.As(err, &busy):
			wait = max(wait, time.Duration(busy.RetryAfter)*time.Second)
		}
		b.log.Warn("the chat server cannot be reached; trying on", "why", err)
		_ = b.options.Sleep(ctx, wait) // the loop looks at ctx
	}
}

// Link is an address that opens a chat with the bot and sends it "/start" and
// the code, which is of letters, digits, _ and -, at most 64 (Bot API, deep
// links). Before the server has been reached it is what can be typed instead.
func (b *Bot) Link(code string) string {
	if name := b.name.Load(); name != nil && *name != "" {
		return "https://t.me/" + *name + "?start=" + code
	}
	return "/start " + code
}

// publish sets the menu of commands. Nothing depends on it.
func (b *Bot) publish(ctx context.Context) {
	var list []models.BotCommand
	for _, c := range b.options.Commands {
		list = append(list, models.BotCommand{Command: c.Name, Description: c.Text})
	}
	if len(list) == 0 {
		return
	}
	_, err := b.lib.SetMyCommands(ctx, &bot.SetMyCommandsParams{Commands: list})
	if err != nil && ctx.Err() == nil {
		b.log.Warn("the menu of commands could not be set", "why", err)
	}
}

func sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-timer.C:
		return nil
	}
}
