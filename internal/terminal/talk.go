package terminal

import (
	"context"
	"crypto/sha256"
	"fmt"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

// Bot is what a conversation needs of the desk; see there for the methods.
type Bot interface {
	Take(ctx context.Context, raws []desk.Raw) ([]desk.Notice, error)
	Tick(ctx context.Context) error
	NextDue(ctx context.Context) (time.Time, bool, error)
	Open(ctx context.Context) ([]chat.Chat, error)
	Flush(ctx context.Context, to desk.Sender) error
	Zone(where chat.Chat) *time.Location
	ReadFiles(ctx context.Context) error
	Close() error
}

// Talk is a conversation: who speaks, what they see, and the bot behind it.
type Talk struct {
	Open       func(context.Context) (Bot, error) // starts the bot on its file
	Phones     *Phones
	Transcript *Transcript
	Now        func() time.Time
	Run        string // sets this conversation's inputs apart from any other on the same file
	Speaker    string // who speaks first
	Code       string // of the newest link printed; one given at the start is printed then

	// writes a file that was sent; nil: it is only named
	Keep func(*chat.File) (path string, err error)
	// who has a phone here; nil: nobody asks
	Known func(ctx context.Context) (list []Known, err error)

	bot    Bot
	unseen map[chat.Chat]bool // have a card open from another run, which no phone here shows
	inputs int
}

// Known is somebody who has a phone in the conversation.
type Known struct {
	Speaker string // as @as calls them
	Name    string
	Role    string
	Shop    string
	Example bool // of the example shop
}

// source names this adapter in the inbox.
const source = "term"

// ChatOf gives the chat of a name.
func ChatOf(name string) chat.Chat { return chat.Chat(source + ":" + name) }

// start opens the bot and turns to the first speaker.
func (t *Talk) start(ctx context.Context) error {
	if err := t.boot(ctx); err != nil {
		return err
	}
	if t.Code != "" {
		t.Transcript.print("Set-up code: %s\n", t.Code)
	}
	open, err := t.bot.Open(ctx)
	if err != nil {
		return err
	}
	t.unseen = map[chat.Chat]bool{}
	for _, where := range open {
		t.unseen[where] = true
	}
	return t.turnTo(ctx, t.Speaker)
}

// restart closes the bot and opens it again on the same file.
func (t *Talk) restart(ctx context.Context) error {
	if err := t.stop(); err != nil {
		return err
	}
	if err := t.boot(ctx); err != nil {
		return err
	}
	return t.bot.Flush(ctx, t)
}

// boot opens the bot and lets happen what came due while it was away.
func (t *Talk) boot(ctx context.Context) (err error) {
	if t.bot, err = t.Open(ctx); err != nil {
		return err
	}
	return t.bot.Tick(ctx)
}

func (t *Talk) stop() error {
	if t.bot == nil {
		return nil
	}
	bot := t.bot
	t.bot = nil
	return bot.Close()
}

// turnTo changes who speaks. Somebody whose card lies open from another run is
// shown it again: the phone here never saw it.
func (t *Talk) turnTo(ctx context.Context, name string) error {
	t.Speaker = name
	where := ChatOf(name)
	if !t.unseen[where] {
		return t.bot.Flush(ctx, t)
	}
	delete(t.unseen, where)
	return t.take(ctx, chat.Input{Kind: chat.Redraw})
}

// say sends a message.
func (t *Talk) say(ctx context.Context, text string) error {
	return t.take(ctx, chat.Input{Kind: chat.Text, Text: text})
}

// photo sends a small picture.
func (t *Talk) photo(ctx context.Context, name string) error {
	return t.take(ctx, chat.Input{Kind: chat.Picture, Photo: books.Photo{ID: name, Unique: name}})
}

// tap presses a button that find gave.
func (t *Talk) tap(ctx context.Context, b chat.Button) error {
	return t.take(ctx, chat.Input{Kind: chat.Press, Tap: b.Data})
}

// take hands one input to the bot and prints what comes of it.
func (t *Talk) take(ctx context.Context, in chat.Input) error {
	in.Chat, in.At = ChatOf(t.Speaker), t.Now()
	t.inputs++
	raw := desk.Raw{Source: source, Key: fmt.Sprintf("%s-%d", t.Run, t.inputs), Input: in}
	content := strings.Join([]string{string(in.Kind), in.Text, in.Tap, in.Photo.ID}, "\x00")
	raw.Hash = sha256.Sum256([]byte(content))
	notices, err := t.bot.Take(ctx, []desk.Raw{raw})
	if err != nil {
		return err
	}
	for _, n := range notices {
		if n.Key == raw.Key {
			t.Transcript.notice(n.Text)
		}
	}
	if err := t.bot.Flush(ctx, t); err != nil || in.Kind == chat.Text {
		return err
	}
	if err := t.bot.ReadFiles(ctx); err != nil { // what words ask for is read with the next tap
		return err
	}
	return t.bot.Flush(ctx, t)
}

// Owns reports whether a chat is one of the terminal's.
func (t *Talk) Owns(where chat.Chat) bool { return strings.HasPrefix(string(where), "term:") }

// Send puts a message on a screen and prints it. It implements desk.Sender.
func (t *Talk) Send(_ context.Context, out desk.Out) (int64, error) {
	if len(out.Reply.Body) == 0 {
		return 0, nil // a menu, or a message to take away: there is nothing to show
	}
	number, ok := t.Phones.show(out)
	if !ok {
		return 0, desk.ErrVanished
	}
	to := ""
	if out.Chat != ChatOf(t.Speaker) {
		to = strings.TrimPrefix(string(out.Chat), source+":")
	}
	t.Transcript.reply(to, out.MessageID != 0, out.Reply, t.kept(out.Reply.File))
	t.remember(out.Reply)
	return number, t.Transcript.err
}

// kept writes a file that was sent, and says where.
func (t *Talk) kept(f *chat.File) string {
	if f == nil || t.Keep == nil {
		return ""
	}
	path, err := t.Keep(f)
	if err != nil {
		return fmt.Sprintf(", which could not be written: %v", err)
	}
	return ", written to " + path
}

// remember keeps the code of a link for "@start last".
func (t *Talk) remember(reply chat.Reply) {
	for _, block := range reply.Body {
		_, code, found := strings.Cut(block.Text, "start=")
		if end := strings.IndexFunc(code, func(r rune) bool { return !validCode(string(r)) }); end >= 0 {
			code = code[:end]
		}
		if found && code != "" {
			t.Code = code
		}
	}
}

// missing says which button is not there and which are.
func (t *Talk) missing(line Line) error {
	kind := "button"
	if line.Old {
		kind = "replaced button"
	}
	have := "there are none"
	if labels := t.Phones.labels(ChatOf(t.Speaker)); len(labels) > 0 {
		have = "the newest are [" + strings.Join(labels, "] [") + "]"
	}
	return fmt.Errorf("%s has no %s that begins with %q; %s", t.Speaker, kind, line.Text, have)
}
