package telling_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/telling"
)

// A day told on a few lines: what was put in, added, brought back and taken out, how
// it ended and why.
func TestPeriodBlocks(t *testing.T) {
	tell := func(f *floor.Floor) string {
		var all []string
		c := talk(f, "owner")
		for _, b := range telling.PeriodBlocks(c.Teller, c.Look("2020-01-01").Periods[0]) {
			all = append(all, b.Text)
		}
		return strings.Join(all, "\n")
	}
	f := opened(t, "staff1: borrow 5x20\nstaff1: [Confirm]\nstaff1: bring back 5x20\nstaff1: [Confirm]\n"+
		"staff1: top up 10x4\nstaff1: [Confirm]")
	expect(t, tell(f),
		"topped up              €40|back from the till    €100|taken out             €100|Not closed yet",
		"€140")
	f.Play(count + "12 51 84\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nstaff1: [I must go]")
	expect(t, tell(f), "Opened 06:40 by Ben", "closed 21:05")
	f.Play("@2026-11-26 06:10\nowner: close\nowner: 28 90 120\nowner: none\nowner: [Confirm]\nowner: [Skip]")
	// 150 - 90 = 60 twenties should be inside, 51 are
	expect(t, tell(f),
		"Counted Wed 25 Nov, 21:05 by Ben, finished Thu 26 Nov, 06:10 by Ada|€180 is missing. (20s 9 missing)",
		"Not closed")
	// what explains a difference is said of a day that is closed: of another none is known
	f = opened(t, "")
	f.Play(closing("12 61 80", "none", "28 98 120", "none") + "\nstaff1: [Confirm]\nstaff1: [Skip]")
	c := talk(f, "owner")
	p := c.Look("2020-01-01").Periods[0]
	for status, looks := range map[books.Status]bool{books.Closed: true, books.Waiting: false,
		books.Open: false} {
		p.Status = status
		if got := strings.Contains(floor.Said(telling.PeriodBlocks(c.Teller, p)...), "Look here"); got != looks {
			t.Errorf("%s: it is said where to look: %t", status, got)
		}
	}
	f = opened(t, "")
	f.Play(closing("12 60 80", "none", "total 4340", "0") + "\nstaff1: [Confirm]\nstaff1: [Skip]")
	expect(t, tell(f), "€60 is missing. (of which kind is not known)", "20s")
}

// Faults of a day, open ones with a way to end them, and for how long the machine
// was out.
func TestFaults(t *testing.T) {
	f := opened(t, "staff1: [All done]\nstaff1: [With]\n@2026-11-25 10:00\n"+
		"staff1: machine is offline\nstaff1: [No lights]\nstaff1: [The lamp works]\nstaff1: [Out of service]\n"+
		"@2026-11-25 11:05")
	c := talk(f, "staff1")
	lines, rows := telling.OpenFaults(c.Teller)
	if len(lines) != 1 || len(rows) != 1 || !strings.Contains(lines[0], "10:00") {
		t.Fatalf("faults %q, %d buttons", lines, len(rows))
	}
	p := f.Machine.Current()
	expect(t, telling.FaultsIn(c.Teller, c.M, p), "1 fault|1 h 5 min|1", "")
	robbed := &books.Fault{Topic: chat.Robbery}
	if telling.MayEnd(c.Teller, robbed) || !telling.MayEnd(talk(f, "owner").Teller, robbed) ||
		!telling.MayEnd(c.Teller,
			&f.Machine.Faults[0]) {
		t.Error("a robbery is said to be over by a manager only")
	}
	f.Taps("staff1", "It works")
	if lines, _ := telling.OpenFaults(talk(f, "staff1").Teller); len(lines) != 0 {
		t.Errorf("still open: %q", lines)
	}
	f.Shop.Plan.EachClose = true
	f.Play(closing("12 60 80", "none", "28 90 120", "none"))
	expect(t, f.Taps("staff1", "Confirm"), "1 fault", "")
}

// An engineer's visit shares a difference out: what went before, during and after
// the work.
func TestPlaced(t *testing.T) {
	f := opened(t, `staff1: [All done]
		staff1: [With]
		@2026-11-25 11:20
		staff1: the engineer is here
		staff1: [Announced]
		staff1: tom
		staff1: a-4711
		staff1: 30 99 180
		staff1: [No, it is empty]
		staff1: 50s 10, 20s 50, 10s 20
		staff1: [Confirm]
		@2026-11-25 12:05
		staff1: [The work is done]
		staff1: 29 97 179
		staff1: [No, it is empty]
		staff1: 20x1
		staff1: [Put aside]
		staff1: 1 0 1
		staff1: [Shop's safe]
		staff1: yes
		staff1: [Confirm]`)
	f.Out.Reset()
	out := f.Play(closing("19 38 150", "none", "21 108 50", "none"))
	// Before it 150 - 50 = 100 twenties should be inside, 99 are; after it 97 are and 1
	// was put aside; 42 should be there at last, 38 and the one in the box are.
	expect(t, out, "Before it: €20 missing. During it: €20 missing. Since then: €20 missing.", "")
}

// What was taken out counts against what was put in: 7,000 less 5 x 20, and 10 x 4.
func TestPutIn(t *testing.T) {
	f := opened(t, "staff1: borrow 5x20\nstaff1: [Confirm]\nstaff1: top up 10x4\nstaff1: [Confirm]")
	if sum := f.Machine.Current().PutIn().String(); sum != "6940" {
		t.Errorf("%s is in, want 6940", sum)
	}
}

// A correction that was taken back holds no more.
func TestOriginalAgain(t *testing.T) {
	f := opened(t, "staff1: top up 10x4\nstaff1: [Confirm]\nowner: correct 2\nowner: [The figures]\n"+
		"owner: [10s, topped]\nowner: 7\nowner: [That is all]\nowner: [Typed]\nowner: [Confirm]")
	if e, ok := books.AsCorrected(trade.Ledger(talk(f, "owner"), 1), 2); !ok || e.Figures[0].Notes != 7 {
		t.Fatalf("the top-up holds as %+v", e.Record)
	}
	f.Play("owner: undo\nowner: [Confirm]")
	if e, ok := books.AsCorrected(trade.Ledger(talk(f, "owner"), 1), 2); !ok || e.Figures[0].Notes != 4 {
		t.Errorf("the top-up holds as %+v", e.Record)
	}
}

// What is open: ticks, counts without figures, money lent, and who is at work.
func TestTodo(t *testing.T) {
	f := opened(t, "staff1: borrow 5x20\nstaff1: [Confirm]\n")
	f.Play(count +
		"12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nstaff1: [I must go]\nstaff2: second count")
	expect(t, strings.Join(telling.Todo(talk(f, "owner").Teller), "\n"), "Wed 25 Nov|€100|Cleo", "Ben is busy")
}

// Claims are of the day their slip was printed on, and are told again or no more
// when they change.
func TestClaims(t *testing.T) {
	f := opened(t, "")
	f.Play(closing("12 60 80", "none", "28 90 120", "none") + "\nstaff1: [Confirm]\n@2026-11-26 09:00")
	c := talk(f, "owner")
	for value, want := range map[int64]string{-1: "less", 0: "more", 1: "more"} {
		if got := telling.Sign(decimal.NewFromInt(value)); got != want {
			t.Errorf("%d: %s", value, got)
		}
	}
	x := c.M.Claims[0]
	if day := telling.SlipDay(c.Teller, x); day != "2026-11-25" {
		t.Errorf("of %s", day)
	}
	expect(t, telling.DueWord(c.Teller, x), "due Thu 26 Nov", "late")
	if late := telling.OverdueFrom(c.Teller, x).Format("2006-01-02"); late != "2026-11-27" {
		t.Errorf("late from %s on", late)
	}
	trade.RemindAgain(c)
	if len(c.Deadlines) != 2 || c.Deadlines[1].At.IsZero() || c.Deadlines[1].Name != "owed-3" ||
		c.Deadlines[0].Name != "owedlong-3" || c.Deadlines[0].At.Format("2006-01-02") != "2026-12-11" {
		t.Errorf("deadlines %+v", c.Deadlines)
	}
	f.Play("owner: credit 4400\nowner: [Confirm]")
	c = talk(f, "owner")
	trade.RemindAgain(c)
	if len(c.Deadlines) != 2 || !c.Deadlines[0].At.IsZero() || !c.Deadlines[1].At.IsZero() {
		t.Errorf("deadlines of a paid claim %+v", c.Deadlines)
	}
	x.On = ""
	if word := telling.DueWord(c.Teller, x); strings.Contains(word, "due Thu") {
		t.Error(word)
	}
	f.At("2026-11-27 00:01")
	expect(t, telling.DueWord(talk(f, "owner").Teller, f.Machine.Claims[0]), "late, was due Thu 26 Nov", "")
}
