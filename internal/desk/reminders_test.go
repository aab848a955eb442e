package desk_test

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/texts"
)

// corner is a shop with the dialogs of the program: its people type and tap,
// the clock is set by hand, and reminders are kept apart from other messages.
type corner struct {
	*office
	shop    *shop.Shop
	buttons map[chat.Chat][]chat.Button // of the newest message that has any
	told    []string                    // "chat key" of reminders since they were last asked for
	matters []string                    // the same of checklists that are still open
	heard   func(desk.Out)              // of everything that goes out; nil: nobody listens
	gone    map[chat.Chat]bool          // chats that take no messages
	log     bytes.Buffer                // what the desk writes into its log
}

var whole = mustLoad()

func mustLoad() *texts.Catalogue {
	c, err := texts.Load()
	if err != nil {
		panic(err)
	}
	return c
}

// fataler is what a test and a property have in common.
type fataler interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

func newCorner(t testing.TB, path string, settings shop.Settings, now time.Time) *corner {
	t.Helper()
	c := &corner{office: &office{t: t, path: path, clock: now}, buttons: map[chat.Chat][]chat.Button{}}
	c.open()
	_, err := c.db.AddShops(now, []store.NewShop{{Settings: settings,
		Accounts: map[chat.Chat]shop.PersonID{owner: 1, staff1: 2, staff2: 3}}})
	ok(t, err)
	c.shop, err = shop.New(1, 1, settings)
	ok(t, err)
	return c
}

// open starts the desk on the file with the dialogs of the program.
func (c *corner) open() {
	c.start()
	c.desk = desk.New(desk.Options{
		Store: c.db, Step: dialogs.New(whole).Step, Random: zeros{}, Now: func() time.Time { return c.clock },
		Log: slog.New(slog.NewTextHandler(&c.log, nil)),
	})
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 1
	}
	return len(p), nil
}

// Send implements desk.Sender.
func (c *corner) Send(_ context.Context, o desk.Out) (int64, error) {
	if c.heard != nil {
		c.heard(o)
	}
	if c.gone[o.Chat] {
		return 0, desk.ErrGone
	}
	// one that is changed says the same once more, unless it is done
	if strings.HasPrefix(o.Reply.Key, "due-") && (o.Reply.Edit == "" || len(o.Reply.Buttons) > 0) {
		c.told = append(c.told, string(o.Chat)+" "+o.Reply.Key)
	}
	if key := o.Reply.Retire; strings.HasPrefix(key, "ticks-") && o.Reply.Edit == "" {
		c.matters = append(c.matters, string(o.Chat)+" "+key)
	}
	if all := slices.Concat(o.Reply.Buttons...); len(all) > 0 && !strings.HasPrefix(o.Reply.Key, "due-") {
		c.buttons[o.Chat] = all
	}
	c.last++
	return c.last, nil
}

func (c *corner) flush(t fataler) {
	t.Helper()
	if err := c.desk.Flush(context.Background(), c); err != nil {
		t.Fatal(err)
	}
}

// types sends messages, and taps where they stand in square brackets.
func (c *corner) types(t fataler, where chat.Chat, lines ...string) {
	t.Helper()
	for _, line := range lines {
		raw := c.raw(where, line)
		if label, is := strings.CutPrefix(line, "["); is {
			i := slices.IndexFunc(
				c.buttons[where],
				func(b chat.Button) bool { return strings.HasPrefix(b.Label, label) },
			)
			if i < 0 {
				t.Fatalf("%s has no button %q among %v", where, label, c.buttons[where])
			}
			raw.Input.Kind, raw.Input.Text, raw.Input.Tap = chat.Press, "", c.buttons[where][i].Data
		}
		if _, err := c.desk.Take(context.Background(), []desk.Raw{raw}); err != nil {
			t.Fatal(err)
		}
		c.flush(t)
	}
}

func (c *corner) opens(t fataler) { c.types(t, staff1, "open 40 150 200", "[Confirm") }

func (c *corner) closes(t fataler) {
	c.types(
		t,
		staff2,
		"close 40 150 200",
		"[I looked",
		"0 0 0",
		"[Confirm",
	)
}

func (c *corner) tick(t fataler) {
	t.Helper()
	if err := c.desk.Tick(context.Background()); err != nil {
		t.Fatal(err)
	}
	c.flush(t)
}

// reminded gives the reminders sent since the last time, in order of text.
func (c *corner) reminded() []string {
	list := c.told
	c.told = nil
	slices.Sort(list)
	return list
}

func (c *corner) wantReminded(t *testing.T, want ...string) {
	t.Helper()
	if got := c.reminded(); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%s: told %q\nwant %q", c.clock.Format("2 15:04"), got, want)
	}
}

func (c *corner) at(day, hour, minute int) {
	c.clock = time.Date(2026, 11, day, hour, minute, 0, 0, time.UTC)
}

// Down for three hours across the closing: what people sent is taken first, then those who can
// act are reminded, once, of the rung of theirs that is due by now; whose turn it was meanwhile
// hears before the next rung, and that comes when it comes.
func TestOutageAcrossTheLadder(t *testing.T) {
	c := newCorner(t, t.TempDir()+"/shop.db", shop.Example(), time.Date(2026, 11, 25, 6, 40, 0, 0, time.UTC))
	c.opens(t)
	c.tick(t)
	c.at(25, 22, 20)
	c.again(t)
	c.tick(t)
	c.wantReminded(t, "term:staff1 due-2026-11-25-closing-1", "term:staff2 due-2026-11-25-closing-1")
	c.at(25, 22, 32)
	c.tick(t)
	c.wantReminded(t)
	c.at(25, 22, 33) // half of the time to the next rung is over: the owner, who stands in for managers
	c.tick(t)
	c.wantReminded(t, "term:owner due-2026-11-25-closing-1")
	c.at(25, 22, 45)
	c.tick(t)
	c.wantReminded(t, "term:owner due-2026-11-25-closing-1")
}

// Down past the owner's rung: first those who can act hear, and the owner as long after them as
// by the ladder, unless they have done it by then.
func TestOutagePastTheOwner(t *testing.T) {
	for name, done := range map[string]bool{"nobody acts": false, "they act": true} {
		t.Run(name, func(t *testing.T) {
			s := shop.Example()
			s.People = append(s.People, shop.Person{ID: 9, Name: "Dora", Role: shop.Manager})
			c := newCorner(t, t.TempDir()+"/shop.db", s, time.Date(2026, 11, 25, 6, 40, 0, 0, time.UTC))
			tx, err := c.db.Begin(c.clock)
			ok(t, err)
			ok(t, tx.Join("term:dora", 1, 9))
			ok(t, tx.Commit())
			c.types(t, staff1, "status")
			c.tick(t)
			c.at(25, 9, 40) // due 07:00, the manager's turn 07:45, the owner's 08:30
			c.again(t)
			c.tick(t)
			c.wantReminded(t, "term:staff1 due-2026-11-25-opening-1", "term:staff2 due-2026-11-25-opening-1")
			var dora, boss []string
			if done {
				c.types(t, staff1, "open 40 150 200", "[Confirm")
			} else {
				dora = []string{"term:dora due-2026-11-25-opening-1"}
				boss = []string{"term:owner due-2026-11-25-opening-1"}
			}
			c.at(25, 10, 4)
			c.tick(t)
			c.wantReminded(t)
			c.at(25, 10, 5) // 25 minutes lie between them
			c.tick(t)
			c.wantReminded(t, dora...)
			c.at(25, 10, 49)
			c.tick(t)
			c.wantReminded(t)
			c.at(25, 10, 50) // 45 minutes more
			c.tick(t)
			c.wantReminded(t, boss...)
		})
	}
}

// again stops the desk and starts it on the same file.
func (c *corner) again(t fataler) {
	if err := c.db.Close(); err != nil {
		t.Fatal(err)
	}
	c.open()
}

// The same, but the close was typed while the bot was down: nobody is reminded.
func TestOutageAndRecordedMeanwhile(t *testing.T) {
	c := newCorner(t, t.TempDir()+"/shop.db", shop.Example(), time.Date(2026, 11, 25, 6, 40, 0, 0, time.UTC))
	c.opens(t)
	c.tick(t)
	c.at(25, 22, 20)
	c.again(t)
	c.closes(t)
	c.tick(t)
	c.wantReminded(t)
}

// Up again in the night: nobody is woken; in the morning the closing is asked
// for before the opening is.
func TestOutageIntoTheNight(t *testing.T) {
	c := newCorner(t, t.TempDir()+"/shop.db", shop.Example(), time.Date(2026, 11, 25, 6, 40, 0, 0, time.UTC))
	c.opens(t)
	c.tick(t)
	c.at(26, 1, 0)
	c.tick(t)
	c.wantReminded(t)
	c.at(26, 6, 0)
	c.tick(t)
	c.wantReminded(t, "term:staff1 due-2026-11-25-closing-1", "term:staff2 due-2026-11-25-closing-1")
}

// The clock jumps a day ahead and back: nothing is said twice, and the ladder
// goes on where it was.
func TestClockJumps(t *testing.T) {
	c := newCorner(t, t.TempDir()+"/shop.db", shop.Example(), time.Date(2026, 11, 25, 6, 40, 0, 0, time.UTC))
	both := func(key string) []string { return []string{"term:staff1 " + key, "term:staff2 " + key} }
	c.opens(t)
	c.tick(t)
	c.at(25, 21, 0)
	c.tick(t)
	c.wantReminded(t, both("due-2026-11-25-closing-1")...)
	c.at(26, 21, 0) // a day ahead: yesterday is over
	c.tick(t)
	c.wantReminded(t, both("due-2026-11-25-unclosed-1")...) // and that is all of one closing
	c.at(25, 21, 5)
	c.types(t, staff1, "status")
	c.tick(t)
	c.wantReminded(t)
	c.at(25, 21, 15) // said to be too late, a day ahead; not said again
	c.tick(t)
	c.wantReminded(t)
	c.at(25, 21, 45)
	c.tick(t)
	c.wantReminded(t, both("due-2026-11-25-closing-1")...)
	c.closes(t)
	c.at(26, 6, 45)
	c.tick(t)
	c.at(26, 7, 0)
	c.tick(t)
	c.wantReminded(t, both("due-2026-11-26-opening-1")...)
}

// For two weeks one of the staff has the bot blocked. After the first message that does not
// arrive nobody tries again, and the other one is reminded; with both away from it the owner is,
// and whoever writes again is reminded again.
func TestBlockedForTwoWeeks(t *testing.T) {
	c := newCorner(t, t.TempDir()+"/shop.db", shop.Example(), time.Date(2026, 11, 25, 6, 40, 0, 0, time.UTC))
	c.gone = map[chat.Chat]bool{staff1: true}
	tried := 0
	c.heard = func(o desk.Out) {
		if o.Chat == staff1 && strings.HasPrefix(o.Reply.Key, "due-") {
			tried++
		}
	}
	c.types(t, owner, "status")
	c.tick(t)
	days := 0
	for day := 25; day < 39; day++ {
		c.at(day, 7, 0)
		c.tick(t)
		told := c.reminded()
		if len(told) == 0 {
			continue // a Sunday
		}
		days++
		want := fmt.Sprintf("term:staff2 due-%s-opening-1", c.clock.Format(time.DateOnly))
		if !slices.Equal(told, []string{want}) {
			t.Errorf("told %q, want %s", told, want)
		}
		c.types(t, staff2, "open 40 150 200", "[Confirm")
		c.at(day, 20, 0)
		c.closes(t) // by staff2
		c.tick(t)
	}
	if days < 11 || tried != 1 {
		t.Errorf("%d days, %d messages tried", days, tried)
	}
	c.reminded()
	c.gone[staff2] = true
	c.at(39, 7, 0)
	c.tick(t) // tried in vain
	c.reminded()
	c.at(40, 7, 0)
	c.tick(t)
	c.wantReminded(t, "term:owner due-2026-12-10-opening-1")
	c.gone = nil
	c.types(t, staff1, "status")
	c.at(41, 7, 0)
	c.tick(t)
	if told := c.reminded(); !slices.Contains(told, "term:staff1 due-2026-12-11-opening-1") {
		t.Errorf("back again: %q", told)
	}
}
