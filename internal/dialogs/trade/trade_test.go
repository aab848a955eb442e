package trade_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

var expect = floor.Expect

// talk is what a room has at hand when somebody speaks on the floor.
func talk(f *floor.Floor, name string) *engine.Talk {
	in := chat.Input{Kind: chat.Text, Chat: floor.ChatOf(name), At: f.Now}
	return f.Engine.Talk(f.State(name), in, f.Facts(name))
}

// opened is the example shop at 21:05: 40, 150 and 200 notes went in.
func opened(t *testing.T, script string) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200\nstaff1: [Confirm]\n" + script)
	f.Out.Reset()
	return f
}

const count = "@2026-11-25 21:05\nstaff1: close "

// What the ledger says of a record now, and what would follow from a correction.
func TestLedger(t *testing.T) {
	f := opened(t, "staff1: top up 20x10\nstaff1: [Confirm]\nstaff1: top up 10x5\nstaff1: [Confirm]\n"+
		"staff1: undo\nstaff1: [Confirm]")
	c := talk(f, "owner")
	if _, ok := books.AsCorrected(trade.Ledger(c), 3); ok {
		t.Error("what was taken back holds")
	}
	for _, seq := range []int64{0, -1, 5} {
		if _, ok := books.AsCorrected(trade.Ledger(c), seq); ok {
			t.Errorf("there is a record %d", seq)
		}
	}
	e, ok := books.AsCorrected(trade.Ledger(c), 2)
	if !ok || e.Figures[0].Notes != 10 {
		t.Fatalf("the top-up is %+v", e)
	}
	in := e.Record
	in.Figures = []books.Figure{{Field: books.Added, Box: 2, Face: "20", Notes: 7}}
	fix := books.Record{Kind: books.Correction, Target: 2, Period: 1, Reason: books.Mistyped, Instead: &in}
	m, err := trade.Corrected(c, fix)
	if err != nil || m.Current().Added["20"] != 7 || c.M.Current().Added["20"] != 10 {
		t.Fatalf("corrected to %v: %v", m, err)
	}
	if err := trade.Correct(c, fix); err != nil || c.M.Current().Added["20"] != 7 || len(c.Records) != 1 {
		t.Errorf("%d records: %v", len(c.Records), err)
	}
	if all := trade.Ledger(c); len(all) != 5 || all[4].Seq != 5 || all[4].By != 1 {
		t.Errorf("the ledger ends with %+v", all[len(all)-1])
	}
	if e, _ := books.AsCorrected(trade.Ledger(c), 2); e.Figures[0].Notes != 7 {
		t.Errorf("the top-up holds as %+v", e.Record)
	}
	if no := telling.PeriodOn(c.Teller, "2026-11-25"); no != 1 || telling.PeriodOn(c.Teller, "2026-11-24") != 0 {
		t.Errorf("the day's period is %d", no)
	}
	c.F.Ask.Entries = nil
	if _, err := trade.Corrected(c, fix); err == nil || c.HasLedger() || c.Look() != c.M {
		t.Error("corrected without a ledger")
	}
}

// While the machine must not be loaded, an opening ends with the reason; a manager
// can lift that.
func TestHeld(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Shop.Plan.Hold = &shop.Hold{At: f.Now.Add(-time.Hour), By: 1, Why: "the door is broken",
		Until: "2026-11-27"}
	expect(t, f.Says("staff1", "open 40 150 200"), "the door is broken|Fri 27 Nov|Ada", "[Confirm]|[Lift")
	expect(t, f.Says("owner", "open 40 150 200"), "the door is broken", "[Confirm]")
	if _, ok := f.Button("owner", "Load"); !ok && len(f.Choices("owner")) == 0 {
		t.Error("an owner cannot lift it")
	}
	f.Shop.Plan.Hold.At = f.Now.Add(time.Minute)
	expect(t, f.Says("staff1", "open 40 150 200"), "[Confirm]", "broken")
}

// Who counts a second time just now is known to others.
func TestSeconder(t *testing.T) {
	f := opened(t, "")
	f.Play(count + "12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nstaff2: second count")
	a := trade.Seconder(talk(f, "staff1"))
	if a == nil || a.Person != 3 || !trade.SecondBy(talk(f, "staff1"), 3) || trade.SecondBy(talk(f, "staff1"),
		1) {
		t.Errorf("the second count is of %+v", a)
	}
	if trade.Seconder(talk(f, "staff2")) != nil {
		t.Error("somebody is told of the own count")
	}
}

// What is told to managers alone.
func TestTold(t *testing.T) {
	f := opened(t, "")
	c := talk(f, "staff1")
	trade.TellSettings(c, "the hours")
	if r := c.Replies[0]; !r.To.Managers || !r.Silent || !strings.Contains(r.Body[0].Text, "the hours") {
		t.Errorf("told %+v", r)
	}
	for fault, want := range map[bool]int{true: 1, false: 0} {
		c = talk(f, "staff1")
		for _, id := range []shop.PersonID{1, 2, 3} {
			c.TellPerson(id, chat.Reply{Body: []chat.Block{{Text: "robbed"}}})
		}
		trade.Hushed(c, fault)
		if len(c.Replies) != want || want == 1 && c.Replies[0].To.Person != 1 {
			t.Errorf("of the robbery itself %v is told: %+v", fault, c.Replies)
		}
	}
}
