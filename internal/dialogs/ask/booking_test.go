package ask_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

// staged has staff1 at a screen of a made-up dialog at the example shop's machine.
func staged(t *testing.T, at string, screens map[string]engine.Screen) *floor.Floor {
	t.Helper()
	return begun(t, floor.MadeUp(at, screens))
}

// begun has staff1 in a made-up dialog.
func begun(t *testing.T, flow *engine.Flow) *floor.Floor {
	t.Helper()
	f := floor.New(t, floor.Of(flow))
	f.Says("staff1", "move")
	return f
}

// stepOf is the screen at which staff1 is; empty for none.
func stepOf(f *floor.Floor) string { return f.State("staff1").Step }

// opensMeanwhile has another person open the machine.
func opensMeanwhile(f *floor.Floor, by shop.PersonID) {
	r := books.Record{Kind: books.Opening, Happened: f.Now.UTC()}
	for i, face := range []cashmath.Face{"50", "20", "10"} {
		r.Figures = append(r.Figures, books.Figure{Field: books.Loaded, Box: i + 1, Face: face, Notes: 40})
	}
	f.Record(by, r)
}

// reading makes a booking that counts how often it books.
func reading(booked *int) ask.Booking {
	return ask.Booking{
		Read: func(*engine.Talk) []chat.Block { return []chat.Block{{Text: "forty notes"}} },
		Book: func(c *engine.Talk) { *booked++; c.Close(chat.Block{Text: "kept"}) }, What: "what.review",
	}
}

// Nothing is booked that somebody was quicker with: the card is shown again, and
// only when that was seen Confirm books, once.
func TestBookingOvertaken(t *testing.T) {
	booked := 0
	f := staged(t, "review", map[string]engine.Screen{"review": reading(&booked).Screen()})
	opensMeanwhile(f, 3)
	said := f.Chooses("staff1", "confirm")
	if booked != 0 || !strings.Contains(said, "Something changed meanwhile: opening by") ||
		!strings.Contains(said, "forty notes") || !slices.Contains(f.Choices("staff1"), "confirm") {
		t.Fatalf("booked %d times, said\n%s", booked, said)
	}
	if said = f.Chooses("staff1", "confirm"); booked != 1 || !strings.Contains(said, "kept") {
		t.Fatalf("booked %d times, said\n%s", booked, said)
	}
	if f.Chooses("staff1", "confirm"); booked != 1 {
		t.Fatalf("a dead card booked: %d times", booked)
	}
}

// Records made meanwhile have no part in what lays down settings.
func TestBookingOfAPlan(t *testing.T) {
	booked := 0
	b := reading(&booked)
	b.Plan = true
	f := staged(t, "review", map[string]engine.Screen{"review": b.Screen()})
	opensMeanwhile(f, 3)
	if said := f.Chooses("staff1", "confirm"); booked != 1 {
		t.Fatalf("not booked, said\n%s", said)
	}
}

// What is to be answered before is not passed over by a Confirm that no card shows.
func TestBookingAsksBefore(t *testing.T) {
	booked, open := 0, true
	b := reading(&booked)
	b.First = func(*engine.Talk) *engine.Card {
		if !open {
			return nil
		}
		return &engine.Card{Body: []chat.Block{{Text: "so many?"}}}
	}
	f := staged(t, "review", map[string]engine.Screen{"review": b.Screen()})
	if said := f.Chooses("staff1", "confirm"); booked != 0 || !strings.Contains(said, "so many?") ||
		slices.Contains(f.Choices("staff1"), "confirm") {
		t.Fatalf("booked %d times, said\n%s", booked, said)
	}
	open = false
	if f.Chooses("staff1", "confirm"); booked != 1 {
		t.Fatal("not booked")
	}
}

// What is over a limit says so in place of the question, with Change first.
func TestBookingOverALimit(t *testing.T) {
	booked, over := 0, ""
	b := reading(&booked)
	b.Over = func(*engine.Talk) string { return over }
	b.Other = ask.Changes(engine.GoBack("review"))
	f := staged(t, "review", map[string]engine.Screen{"review": b.Screen()})
	for _, x := range []struct {
		over, says, not string
		first           []string
	}{
		{"", "Right?", "too much", []string{"confirm", "change"}},
		{"too much", "too much", "Right?", []string{"change", "confirm"}},
	} {
		over = x.over
		said := f.Chooses("staff1", "change")
		first := f.Choices("staff1")[:2]
		if !strings.Contains(said, x.says) || strings.Contains(said, x.not) || !slices.Equal(first, x.first) {
			t.Errorf("over %q: %v\n%s", x.over, first, said)
		}
	}
}

// counted makes a made-up question about the machine's boxes, which keeps what
// was answered last where a test can see it.
func counted(name string, partial bool, seen *[]int64) ask.Question {
	q := ask.Question{Name: name, Lines: ask.BoxLines, Partial: partial}
	q.Next = func(c *engine.Talk) string {
		*seen = slices.Clone(q.Values(c))
		return "review"
	}
	return q
}

// A count that is typed where it is read back changes its line at once; the
// others stay. With two counts there it is asked which one is meant.
func TestTypedWhereReadBack(t *testing.T) {
	for _, x := range []struct {
		both bool
		then string // what is tapped after it
		old  []int64
		new  []int64
	}{
		{false, "", []int64{40, 25, 200}, nil},
		{true, "whose-old", []int64{40, 25, 200}, []int64{1, 2, 3}},
		{true, "whose-new", []int64{40, 150, 200}, []int64{1, 25, 3}},
		{true, "back", []int64{40, 150, 200}, []int64{1, 2, 3}},
	} {
		var before, after []int64
		left, right := counted("old", true, &before), counted("new", true, &after)
		which := ask.Only(left)
		if x.both {
			next := left.Next
			left.Next = func(c *engine.Talk) string { next(c); return "new" }
			which = func(*engine.Talk) []ask.Question { return []ask.Question{left, right} }
		}
		b := reading(new(int))
		b.Answer = ask.TypedCounts(which)
		f := staged(t, "old", map[string]engine.Screen{"review": b.Screen(),
			"whose": ask.Whose(which, "review").Screen(),
			"old":   left.Screen(), "new": right.Screen()})
		if f.Says("staff1", "40 150 200"); x.both {
			f.Says("staff1", "1 2 3")
		}
		if stepOf(f) != "review" {
			t.Fatalf("at %s:\n%s", stepOf(f), f.Out.String())
		}
		f.Says("staff1", "20x25")
		if at := stepOf(f); at != "review" && x.then == "" || at != "whose" && x.then != "" {
			t.Errorf("both %v: at %s", x.both, at)
		}
		if x.then != "" {
			f.Chooses("staff1", x.then)
		}
		if !slices.Equal(before, x.old) || !slices.Equal(after, x.new) || stepOf(f) != "review" {
			t.Errorf("then %q: %v and %v at %s", x.then, before, after, stepOf(f))
		}
	}
}

// Words where counts are read back are no counts.
func TestProseWhereReadBack(t *testing.T) {
	q := counted("old", true, new([]int64))
	b := ask.Booking{Read: reading(new(int)).Read, Answer: ask.TypedCounts(ask.Only(q))}
	f := staged(t, "review", map[string]engine.Screen{"review": b.Screen(), "old": q.Screen()})
	if said := f.Says("staff1", "what is this here"); !strings.Contains(said, "did not understand") {
		t.Errorf("prose was taken:\n%s", said)
	}
}

// With two counts there words are no count of either.
func TestProseWhereTwoAreReadBack(t *testing.T) {
	left, right := counted("old", true, new([]int64)), counted("new", true, new([]int64))
	which := func(*engine.Talk) []ask.Question { return []ask.Question{left, right} }
	b := ask.Booking{Read: reading(new(int)).Read, Answer: ask.TypedCounts(which)}
	f := staged(t, "review", map[string]engine.Screen{"review": b.Screen(),
		"whose": ask.Whose(which, "review").Screen(),
		"old":   left.Screen(), "new": right.Screen()})
	if said := f.Says("staff1", "what is this here"); !strings.Contains(said, "did not understand") ||
		stepOf(f) != "review" {
		t.Errorf("prose was taken:\n%s", said)
	}
}

// A line that is changed is asked anew, the others keep their answer, and a line
// that is not there is none.
func TestChangingALine(t *testing.T) {
	var got []int64
	q := counted("old", false, &got)
	b := reading(new(int))
	b.Other = ask.Changes(engine.GoBack("change"))
	f := staged(t, "old", map[string]engine.Screen{"change": ask.ChangeLines(q), "old": q.Screen(),
		"review": b.Screen()})
	f.Says("staff1", "40 150 200")
	f.Chooses("staff1", "change")
	for _, none := range []string{"line-3", "line--1", "line-", "line-01", "old-1"} {
		if said := f.Chooses("staff1", none); stepOf(f) != "change" || !strings.Contains(said, "button") {
			t.Fatalf("%q was taken: at %s\n%s", none, stepOf(f), said)
		}
	}
	got = nil
	if said := f.Chooses("staff1", "line-2"); stepOf(f) != "old" || !strings.Contains(said, "bottom box") {
		t.Fatalf("at %s:\n%s", stepOf(f), said)
	}
	f.Says("staff1", "80")
	if stepOf(f) != "review" || !slices.Equal(got, []int64{40, 150, 80}) {
		t.Fatalf("at %s with %v", stepOf(f), got)
	}
}

// Figures typed at a card are kept for the dialog that waits for it, where that asks for some;
// what puts the card right, what is no figure, and figures behind those that wait already are the
// card's own, but for a slip, of which the last figures hold.
func TestFiguresForTheNextDialog(t *testing.T) {
	const next, says = engine.DoClose, "the slip says 28 89 120"
	for name, s := range map[string]struct {
		then  *chat.Leave
		slip  bool
		said  string
		keeps string // what waits then for the next dialog
	}{
		"figures":              {&chat.Leave{Command: next}, false, "28 89 120", "28 89 120"},
		"a sum":                {&chat.Leave{Command: next}, false, "total 4420", "total 4420"},
		"the slip says":        {&chat.Leave{Command: next}, false, says, says},
		"nothing waits":        {nil, false, "28 89 120", ""},
		"put right":            {&chat.Leave{Command: next}, false, "sorry 20s 89", ""},
		"words":                {&chat.Leave{Command: next}, false, "hm", ""},
		"some wait":            {&chat.Leave{Command: next, Rest: "7"}, false, "28 89 120", "7"},
		"of the slip":          {&chat.Leave{Command: next, Rest: "7"}, true, "28 89 120", "28 89 120"},
		"what asks for none":   {&chat.Leave{Command: engine.DoFloat}, false, "28 89 120", ""},
		"what is not a dialog": {&chat.Leave{Command: "gone"}, false, "28 89 120", ""},
	} {
		heard := ""
		card := ask.Booking{Read: func(*engine.Talk) []chat.Block { return []chat.Block{{Text: "read back"}} },
			Book:   func(c *engine.Talk) { c.Close(chat.Lines("booked")) },
			Answer: func(_ *engine.Talk, s string) bool { heard = s; return true }}
		first := floor.MadeUp("review", map[string]engine.Screen{"review": card.Screen()})
		waits, bare := asking(ask.Question{Name: "left"}), asking(ask.Question{Name: "left"})
		waits.Name, waits.Title, bare.Name, bare.Asks = next, "closing", engine.DoFloat, nil
		waits.Commands, bare.Commands = nil, nil
		f := floor.New(t, floor.Of(first, waits, bare))
		f.Says("staff1", "move")
		if s.slip {
			opensMeanwhile(f, 2)
			f.Machine.Periods[0].Status = books.Waiting
		}
		st := f.State("staff1")
		st.Draft.Then = s.then
		if s.slip {
			st.Draft.Period = f.Machine.Periods[0].No
		}
		f.States[floor.ChatOf("staff1")] = st
		said, kept := f.Says("staff1", s.said), ""
		if then := f.State("staff1").Draft.Then; then != nil {
			kept = then.Rest
		}
		taken := s.keeps == s.said
		if kept != s.keeps || (heard == s.said) == taken {
			t.Errorf("%s: keeps %q, the card heard %q\n%s", name, kept, heard, said)
		}
		if taken {
			expect(t, said, map[bool]string{true: "is for the slip", false: "is for closing"}[s.slip]+"|read back", "")
		}
	}
}

// A card that takes no words does not take figures for the next dialog either.
func TestFiguresAtACardWithoutWords(t *testing.T) {
	booked := 0
	f := staged(t, "review", map[string]engine.Screen{"review": reading(&booked).Screen()})
	st := f.State("staff1")
	st.Draft.Then = &chat.Leave{Command: engine.DoMove}
	f.States[floor.ChatOf("staff1")] = st
	f.Says("staff1", "28 89 120")
	if then := f.State("staff1").Draft.Then; booked != 0 || then == nil || then.Rest != "" {
		t.Errorf("booked %d, kept %+v", booked, then)
	}
}
