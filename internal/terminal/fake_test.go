package terminal_test

import (
	"bytes"
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/terminal"
)

// fakeBot answers each message with a card and each tap with an edit of it. It
// tells owner about deadlines.
type fakeBot struct {
	world *fakeWorld
	open  bool
}

// fakeWorld is what outlives a restart.
type fakeWorld struct {
	now    func() time.Time
	due    []time.Time
	keys   map[string]bool
	open   []chat.Chat // with a card from another run
	outbox []desk.Out
	card   int64
	starts int
	stuck  bool // deadlines never end
	fail   error
}

func (w *fakeWorld) start(context.Context) (terminal.Bot, error) {
	w.starts++
	return &fakeBot{world: w, open: true}, nil
}

func (b *fakeBot) ReadFiles(context.Context) error { return nil }

func (b *fakeBot) Take(_ context.Context, raws []desk.Raw) ([]desk.Notice, error) {
	if !b.open {
		return nil, errors.New("the bot is closed")
	}
	var notices []desk.Notice
	for _, raw := range raws {
		if b.world.keys[raw.Key] {
			return nil, errors.New("input key " + raw.Key + " came twice")
		}
		b.world.keys[raw.Key] = true
		in := raw.Input
		out := desk.Out{Chat: in.Chat}
		switch in.Kind {
		case chat.Press:
			out.MessageID = b.world.card
			out.Reply = reply("Done: "+in.Tap, "Undo")
			notices = append(notices, desk.Notice{Key: raw.Key, Text: "Noted."})
		case chat.Redraw:
			out.Reply = reply("Back to where you were.")
		default:
			out.Reply = reply(string(in.Kind)+": "+in.Text+in.Photo.ID+"\nRight?", "Confirm", "Change")
		}
		b.world.outbox = append(b.world.outbox, out)
	}
	return notices, b.world.fail
}

func reply(text string, labels ...string) chat.Reply {
	r := chat.Reply{Body: []chat.Block{{Text: text}}, Key: "card"}
	for _, l := range labels {
		r.Buttons = append(r.Buttons, []chat.Button{{Label: l, Data: l}})
	}
	return r
}

func (b *fakeBot) Tick(context.Context) error {
	now := b.world.now()
	slices.SortFunc(b.world.due, time.Time.Compare)
	for len(b.world.due) > 0 && !b.world.due[0].After(now) {
		b.world.outbox = append(b.world.outbox, desk.Out{
			Chat: "term:owner", Reply: reply("Due at " + now.UTC().Format(time.RFC3339)),
		})
		if b.world.stuck {
			return nil
		}
		b.world.due = b.world.due[1:]
	}
	return nil
}

func (b *fakeBot) NextDue(context.Context) (time.Time, bool, error) {
	slices.SortFunc(b.world.due, time.Time.Compare)
	if len(b.world.due) == 0 {
		return time.Time{}, false, nil
	}
	return b.world.due[0], true, nil
}

func (b *fakeBot) Open(context.Context) ([]chat.Chat, error) { return b.world.open, nil }

func (b *fakeBot) Flush(ctx context.Context, to desk.Sender) error {
	for _, out := range b.world.outbox {
		number, err := to.Send(ctx, out)
		if err != nil {
			return err
		}
		b.world.card = number
	}
	b.world.outbox = nil
	return nil
}

func (b *fakeBot) Zone(chat.Chat) *time.Location { return time.FixedZone("CET", 3600) }

func (b *fakeBot) Close() error {
	b.open = false
	return nil
}

// stage puts a script in front of a fake bot at 2026-01-05 08:00.
func stage(w *fakeWorld) (*terminal.Script, *bytes.Buffer) {
	out := &bytes.Buffer{}
	clock := &terminal.Clock{}
	clock.Set(time.Date(2026, 1, 5, 7, 0, 0, 0, time.UTC))
	w.now, w.keys = clock.Now, map[string]bool{}
	talk := &terminal.Talk{
		Open: w.start, Phones: terminal.NewPhones(0), Transcript: &terminal.Transcript{Out: out},
		Now: clock.Now, Run: "test", Speaker: "owner",
	}
	return &terminal.Script{Talk: talk, Clock: clock}, out
}

func play(t *testing.T, w *fakeWorld, lines ...string) (string, error) {
	t.Helper()
	script, out := stage(w)
	err := script.Play(t.Context(), strings.NewReader(strings.Join(lines, "\n")))
	return out.String(), err
}
