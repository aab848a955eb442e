package ask_test

import (
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/texts"
)

// Where test notes are is tapped; a yes or no leads on, and what is blind is
// what the screen was, out of sight.
func TestWhereAndWhether(t *testing.T) {
	at, counted := "", ""
	whether := ask.TestCounted(func(c *engine.Talk, yes bool) {
		counted = texts.Either(yes, "yes", "no")
		c.GoTo(texts.Either(yes, "where", "done"))
	})
	done := engine.Screen{Ask: func(*engine.Talk) *engine.Card {
		return &engine.Card{Body: []chat.Block{{Text: "at " + at + " " + counted}}}
	}}
	f := staged(t, "whether", map[string]engine.Screen{"whether": ask.Blind(whether),
		"where": ask.TestPlace(func(c *engine.Talk, p books.Place) {
			at = string(p)
			c.GoTo("done")
		}),
		"done": done})
	expect(t, f.Out.String(), "Did the machine count the test notes|[Yes]|[No]", "")
	if !f.State("staff1").Blind {
		t.Error("not blind")
	}
	expect(t, f.Says("staff1", "yes"), "[Box for refused notes]", "machine count")
	if f.State("staff1").Blind {
		t.Error("still blind")
	}
	if got := f.Choices("staff1")[:4]; got[0] != string(books.Tray) || got[1] != string(books.Boxes) ||
		got[2] != string(books.Cash) || got[3] != string(books.Till) {
		t.Errorf("places %v", got)
	}
	expect(t, f.Chooses("staff1", "tray"), "at tray yes", "")
	at = ""
	f = staged(t, "whether", map[string]engine.Screen{"whether": whether, "done": done})
	expect(t, f.Taps("staff1", "No"), "at  no", "yes")
}

// A booking may ask nothing, something of its own, have another button, and offer
// more below.
func TestBookingCards(t *testing.T) {
	read := func(*engine.Talk) []chat.Block { return []chat.Block{{Text: "forty notes"}} }
	var b ask.Booking
	shown := func() string {
		f := staged(t, "review", map[string]engine.Screen{"review": b.Screen(),
			"before": floor.Screen("before?", nil)})
		return f.Out.String()
	}
	b = ask.Booking{Read: read}
	expect(t, shown(), "forty notes\n  Right?\n  [Confirm]\n  [More]", "[Change]")
	b.Asks = func(*engine.Talk) string { return "" }
	expect(t, shown(), "forty notes\n  [Confirm]", "Right?")
	b.Asks, b.Sure, b.Other = func(*engine.Talk) string { return "Sure?" }, "yes", ask.BackTo("before")
	b.Also = func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip", "skip")} }
	b.Taps = map[string]func(*engine.Talk){"skip": engine.GoBack("before")}
	expect(t, shown(), "Sure?\n  [Yes]\n  [Back]\n  [Skip", "Right?|[Confirm]")
	for _, choice := range []string{"back", "skip"} {
		f := staged(t, "review", map[string]engine.Screen{"review": b.Screen(),
			"before": floor.Screen("before?", nil)})
		expect(t, f.Chooses("staff1", choice), "before?", "")
	}
	b.Read = func(c *engine.Talk) []chat.Block { c.GoTo("before"); return nil }
	expect(t, shown(), "before?", "Sure?")
}

// A pick may have something before it, buttons below, options in one row, and no
// head, where another screen asks.
func TestPickCards(t *testing.T) {
	n := 2
	p := listed(&n, new(string))
	p.Foot = func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("skip", "skip")} }
	p.Taps = map[string]func(*engine.Talk){"skip": engine.GoBack("done")}
	p.Back = "done"
	f := onStage(t, p)
	expect(t, f.Out.String(), "What happened?\n  [Thing 0]\n  [Thing 1]\n  [Skip]\n  [Back]", "")
	expect(t, f.Taps("staff1", "Back"), "chosen", "")
	first := true
	p.First = func(*engine.Talk) *engine.Card {
		if !first {
			return nil
		}
		return &engine.Card{Body: []chat.Block{{Text: "first this"}}}
	}
	f = onStage(t, p)
	expect(t, f.Out.String(), "first this", "Thing")
	first = false
	expect(t, f.Step("staff1", chat.Input{Kind: chat.Redraw}, "(looks)"), "[Thing 0]", "first")
	p.Head = func(c *engine.Talk) *engine.Card { c.GoTo("done"); return nil }
	expect(t, onStage(t, p).Out.String(), "chosen", "Thing")
	took := ""
	p = ask.Pick{Head: ask.Asking("ask.how"), Options: func(*engine.Talk) []ask.Option {
		return []ask.Option{{Label: "A", Value: "a", Beside: true}, {Label: "B", Value: "b", Beside: true},
			{Label: "C", Value: "c", Take: func(c *engine.Talk) { took = "c"; c.GoTo("done") }}}
	}}
	f = onStage(t, p)
	res := f.Does("staff1", chat.Input{Kind: chat.Redraw})
	if rows := res.Replies[0].Buttons; len(rows) != 3 || len(rows[0]) != 2 || len(rows[1]) != 1 {
		t.Errorf("rows %v", rows)
	}
	if f.Chooses("staff1", "c"); took != "c" {
		t.Error("an option did not do what is its own")
	}
}

// What is told now belongs to the period that is open; of something from earlier
// to the last one that was opened before it and is not finished; or to the one
// that the dialog is about.
func TestTarget(t *testing.T) {
	f := floor.New(t, floor.Of())
	at := func(hours int) time.Time { return f.Now.Add(time.Duration(hours) * time.Hour) }
	f.Machine.Periods = []*books.Period{
		{No: 1, Opened: at(-72), Status: books.Closed}, {No: 2, Opened: at(-48), Status: books.Waiting},
		{No: 3, Opened: at(-30), Status: books.Waiting}, {No: 4, Opened: at(-20), Status: books.Closed},
		{No: 5, Opened: at(-1), Status: books.Open},
	}
	f.Machine.Open = 5
	for hours, want := range map[int]int64{0: 5, -71: 0, -48: 2, -31: 2, -30: 3, -2: 3} {
		c := talks(t, f)
		if hours != 0 {
			c.State.Draft.Happened = at(hours)
		}
		var no int64
		if p := ask.Target(c); p != nil {
			no = p.No
		}
		if no != want {
			t.Errorf("%d hours ago: period %d, want %d", -hours, no, want)
		}
	}
	c := talks(t, f)
	c.State.Draft.Period = 4
	if p := ask.Target(c); p == nil || p.No != 4 {
		t.Errorf("the dialog's own is %+v", p)
	}
}

// What is said of a count that is given up says what of it is on record.
func TestCountStays(t *testing.T) {
	f := floor.New(t, floor.Of(floor.MadeUp("ask", map[string]engine.Screen{"ask": floor.Screen("how?", nil)})))
	f.Machine.Periods = []*books.Period{{No: 1, Status: books.Closed}, {No: 2, Status: books.Waiting},
		{No: 3, Status: books.Waiting, Slips: []books.Slip{{}}}, {No: 4, Status: books.Open}}
	f.Machine.Open = 4
	f.Says("staff1", "move")
	const nothing = "Stopped: moving notes. Nothing of it was booked."
	for no, want := range map[int64]string{0: nothing, 4: nothing, 9: nothing,
		1: "All right. The closing stays on record.",
		2: "Stopped. Your count stays on record.\n" +
			"The machine's figures are missing. When you have them, write: finish",
		3: "Stopped. Your count and the figures typed in before stay on record.\n" +
			"It is not closed yet. Next, write: finish",
	} {
		c := talks(t, f)
		c.State.Draft.Period = no
		if got := ask.CountStays(c); got != want {
			t.Errorf("period %d: %q", no, got)
		}
	}
	c := talks(t, f)
	c.State.Draft.Period = 2
	c.Flow().Second = true
	if got := ask.CountStays(c); got != nothing {
		t.Errorf("of a second count: %q", got)
	}
}
