package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// stage is one made-up dialog at the example shop's machine, with one person at
// work in it.
type stage struct {
	t       *testing.T
	engine  *Engine
	st      State
	facts   Facts
	now     time.Time
	machine *books.Machine
}

// staged begins a dialog of the given screens at one of them.
func staged(t *testing.T, at string, screens map[string]screen) *stage {
	t.Helper()
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	f := &flow{name: doMove, title: "move", screens: screens, start: func(c *talk) { c.goTo(at) },
		company: oneAtATime, loses: losesCounts, stopped: nothingBooked}
	e := New(catalogue)
	e.flows[f.name] = f
	p, _ := s.Person(2)
	g := &stage{t: t, engine: e, machine: books.New(1), facts: Facts{Shop: s, Person: p, Lang: "en"},
		now: time.Date(2026, 11, 25, 11, 0, 0, 0, s.Location)}
	g.facts.Machine = g.machine
	c := e.talk(State{V: StateFormat}, Input{At: g.now}, g.facts)
	c.begin(f.name)
	g.st = c.State
	return g
}

// does takes an input and gives what is said and the payloads' choices of the last card.
func (g *stage) does(in Input) (said string, choices []string) {
	g.t.Helper()
	in.At, in.Chat = g.now, "term:ben"
	res := g.engine.Step(g.st, in, g.facts)
	g.st = res.State
	var lines []string
	for _, r := range res.Replies {
		choices = nil
		for _, b := range r.Body {
			lines = append(lines, b.Text)
		}
		for _, b := range slices.Concat(r.Buttons...) {
			tap, _ := ParseTap(b.Data)
			choices = append(choices, tap.Choice)
		}
	}
	return strings.Join(append(lines, res.Notice), "\n"), choices
}

func (g *stage) taps(choice string) (said string, choices []string) {
	g.t.Helper()
	return g.does(Input{Kind: Press, Tap: "d:" + strconv.Itoa(g.st.Rev) + ":" + choice})
}

func (g *stage) types(text string) (said string, choices []string) {
	g.t.Helper()
	return g.does(Input{Kind: Text, Text: text})
}

// recordedBy has another person open the machine meanwhile.
func (g *stage) recordedBy(id shop.PersonID) {
	g.t.Helper()
	r := books.Record{Kind: books.Opening, Happened: g.now.UTC()}
	for i, face := range []cashmath.Face{"50", "20", "10"} {
		r.Figures = append(r.Figures, books.Figure{Field: books.Loaded, Box: i + 1, Face: face, Notes: 40})
	}
	m := g.machine.Clone()
	_, err := m.Post(books.Entry{Record: r, Machine: 1, Seq: m.Seq + 1, By: id, Recorded: g.now.UTC()})
	if err != nil {
		g.t.Fatal(err)
	}
	g.machine, g.facts.Machine = m, m
}

// reading makes a booking that counts how often it books.
func reading(booked *int) booking {
	return booking{
		read: func(*talk) []Block { return []Block{{Text: "forty notes"}} },
		book: func(c *talk) { *booked++; c.close(Block{Text: "kept"}) }, what: "what.review",
	}
}

// Nothing is booked that somebody was quicker with: the card is shown again, and
// only when that was seen Confirm books, once.
func TestBookingOvertaken(t *testing.T) {
	booked := 0
	g := staged(t, "review", map[string]screen{"review": reading(&booked).screen()})
	g.recordedBy(3)
	said, choices := g.taps("confirm")
	if booked != 0 || !strings.Contains(said, "Something changed meanwhile: opening by") ||
		!strings.Contains(said, "forty notes") || !slices.Contains(choices, "confirm") {
		t.Fatalf("booked %d times, said\n%s", booked, said)
	}
	if said, _ := g.taps("confirm"); booked != 1 || !strings.Contains(said, "kept") {
		t.Fatalf("booked %d times, said\n%s", booked, said)
	}
	if g.taps("confirm"); booked != 1 {
		t.Fatalf("a dead card booked: %d times", booked)
	}
}

// Records made meanwhile have no part in what lays down settings.
func TestBookingOfAPlan(t *testing.T) {
	booked := 0
	b := reading(&booked)
	b.plan = true
	g := staged(t, "review", map[string]screen{"review": b.screen()})
	g.recordedBy(3)
	if said, _ := g.taps("confirm"); booked != 1 {
		t.Fatalf("not booked, said\n%s", said)
	}
}

// What is to be answered before is not passed over by a Confirm that no card shows.
func TestBookingAsksBefore(t *testing.T) {
	booked, open := 0, true
	b := reading(&booked)
	b.first = func(*talk) *card {
		if !open {
			return nil
		}
		return &card{body: []Block{{Text: "so many?"}}}
	}
	g := staged(t, "review", map[string]screen{"review": b.screen()})
	if said, choices := g.taps("confirm"); booked != 0 || !strings.Contains(said, "so many?") ||
		slices.Contains(choices, "confirm") {
		t.Fatalf("booked %d times, said\n%s", booked, said)
	}
	open = false
	if g.taps("confirm"); booked != 1 {
		t.Fatal("not booked")
	}
}

// What is over a limit says so in place of the question, with Change first.
func TestBookingOverALimit(t *testing.T) {
	booked, over := 0, ""
	b := reading(&booked)
	b.over, b.other = func(*talk) string { return over }, changes(goBack("review"))
	g := staged(t, "review", map[string]screen{"review": b.screen()})
	for _, x := range []struct {
		over, says, not string
		first           []string
	}{
		{"", "Right?", "too much", []string{"confirm", "change"}},
		{"too much", "too much", "Right?", []string{"change", "confirm"}},
	} {
		over = x.over
		said, choices := g.taps("change")
		if !strings.Contains(said, x.says) || strings.Contains(said, x.not) || !slices.Equal(choices[:2], x.first) {
			t.Errorf("over %q: %v\n%s", x.over, choices, said)
		}
	}
}

// twoCounts are two made-up questions about the machine's boxes.
func twoCounts() (left, right question) {
	next := func(*talk) string { return "review" }
	return question{name: "old", lines: boxLines, partial: true, next: next},
		question{name: "new", lines: boxLines, partial: true, next: next}
}

// A count that is typed where it is read back changes its line at once; the
// others stay. With two counts there it is asked which one is meant.
func TestTypedWhereReadBack(t *testing.T) {
	left, right := twoCounts()
	for _, x := range []struct {
		which []question
		then  string // what is tapped after it
		old   []int64
		new   []int64
	}{
		{[]question{left}, "", []int64{40, 25, 200}, []int64{1, 2, 3}},
		{[]question{left, right}, "old", []int64{40, 25, 200}, []int64{1, 2, 3}},
		{[]question{left, right}, "new", []int64{40, 150, 200}, []int64{1, 25, 3}},
		{[]question{left, right}, "back", []int64{40, 150, 200}, []int64{1, 2, 3}},
	} {
		which := func(*talk) []question { return x.which }
		b := reading(new(int))
		b.answer = typedCounts(which)
		g := staged(t, "review", map[string]screen{"review": b.screen(), "whose": whose(which),
			"old": left.screen(), "new": right.screen()})
		g.st.Draft.Counts = map[string][]int64{"old": {40, 150, 200}, "new": {1, 2, 3}}
		g.types("20x25")
		if at := g.st.Step; at != "review" && x.then == "" || at != "whose" && x.then != "" {
			t.Errorf("%d counts: at %s", len(x.which), at)
		}
		if x.then != "" {
			g.taps(x.then)
		}
		if got := g.st.Draft.Counts; !slices.Equal(got["old"], x.old) || !slices.Equal(got["new"], x.new) ||
			g.st.Step != "review" {
			t.Errorf("then %q: %v at %s", x.then, got, g.st.Step)
		}
	}
	g := staged(t, "review", map[string]screen{"review": booking{read: reading(new(int)).read,
		answer: typedCounts(only(left))}.screen(), "old": left.screen()})
	if said, _ := g.types("what is this here"); !strings.Contains(said, "did not understand") {
		t.Errorf("prose was taken:\n%s", said)
	}
}

// A line that is changed is asked anew, the others keep their answer, and a line
// that is not there is none.
func TestChangingALine(t *testing.T) {
	q, _ := twoCounts()
	q.partial = false
	g := staged(t, "change", map[string]screen{"change": changeLines(q), "old": q.screen(),
		"review": reading(new(int)).screen()})
	g.st.Draft.Counts = map[string][]int64{"old": {40, 150, 200}}
	before := g.st.Step
	for _, none := range []string{"line-3", "line--1", "line-", "line-01", "old-1"} {
		if said, _ := g.taps(none); g.st.Step != before || !strings.Contains(said, "button") {
			t.Fatalf("%q was taken: at %s\n%s", none, g.st.Step, said)
		}
	}
	g.taps("line-2")
	if got := g.st.Draft.Counts["old"]; g.st.Step != "old" || !slices.Equal(got, []int64{40, 150, unanswered}) {
		t.Fatalf("at %s with %v", g.st.Step, got)
	}
	g.types("80")
	if got := g.st.Draft.Counts["old"]; g.st.Step != "review" || !slices.Equal(got, []int64{40, 150, 80}) {
		t.Fatalf("at %s with %v", g.st.Step, got)
	}
}
