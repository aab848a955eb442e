package trade_test

import (
	"strconv"
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
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
)

var expect = floor.Expect

// talk is what a room has at hand when somebody speaks on the floor.
func talk(f *floor.Floor, name string) *engine.Talk { return f.Talk(name) }

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
	if _, ok := books.AsCorrected(trade.Ledger(c, 1), 3); ok {
		t.Error("what was taken back holds")
	}
	for _, seq := range []int64{0, -1, 5} {
		if _, ok := books.AsCorrected(trade.Ledger(c, 1), seq); ok {
			t.Errorf("there is a record %d", seq)
		}
	}
	e, ok := books.AsCorrected(trade.Ledger(c, 1), 2)
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
	if all := trade.Ledger(c, 1); len(all) != 5 || all[4].Seq != 5 || all[4].By != 1 {
		t.Errorf("the ledger ends with %+v", all[len(all)-1])
	}
	if e, _ := books.AsCorrected(trade.Ledger(c, 1), 2); e.Figures[0].Notes != 7 {
		t.Errorf("the top-up holds as %+v", e.Record)
	}
	if no := telling.PeriodOn(c.Teller, "2026-11-25"); no != 1 || telling.PeriodOn(c.Teller, "2026-11-24") != 0 {
		t.Errorf("the day's period is %d", no)
	}
	c.F.Ask.Entries = nil
	if _, err := trade.Corrected(c, fix); err == nil || c.HasLedger() || c.Look("2020-01-01") != c.M {
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

// deadlines are those a step asked for, by name; a zero time drops one.
func deadlines(c *engine.Talk) map[string]time.Time {
	m := map[string]time.Time{}
	for _, d := range c.Deadlines {
		m[d.Name] = d.At
	}
	return m
}

// What the bank owes is asked for from the morning after its due day on, as long as any of
// it is left; what is paid is quiet, and one without a due day never speaks.
func TestOwedReminders(t *testing.T) {
	f := opened(t, count+"12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nstaff1: 28 90 120\n"+
		"staff1: none\nstaff1: [Confirm]")
	c := talk(f, "owner")
	claim := c.M.Claims[0] // €4,400, due on Thursday 26
	trade.RemindAgain(c)
	name := tasks.OwedName + strconv.FormatInt(claim.Seq, 10)
	at, ok := deadlines(c)[name]
	morning := shop.DateOf(at.In(f.Shop.Location)) == "2026-11-27"
	if !ok || !at.Equal(telling.OverdueFrom(c.Teller, claim)) || !morning {
		t.Errorf("reminded at %s: %v", at, c.Deadlines)
	}
	c = talk(f, "owner")
	claim.On = ""
	trade.RemindOf(c, claim)
	trade.QuietPaid(c, []int64{claim.Seq, 99})
	if len(c.Deadlines) != 0 {
		t.Errorf("no due day, and nothing paid: %v", c.Deadlines)
	}
	f.Play("@2026-11-26 10:00\nowner: credit 4400\nowner: [Confirm]")
	c = talk(f, "owner")
	trade.RemindAgain(c)
	if at, ok := deadlines(c)[name]; !ok || !at.IsZero() {
		t.Errorf("paid, and reminded at %s: %v", at, c.Deadlines)
	}
}

// A record beside the dialog lends it nothing: it has its own time, the dialog's card is not
// overtaken by it, and the photos stay with the dialog. Of a phone on the counter it says so.
func TestNoteBeside(t *testing.T) {
	f := opened(t, "staff1: top up 20x10")
	c := talk(f, "staff1")
	c.State.Draft.Photos = []books.Photo{{}}
	c.State.Draft.Happened = f.Now.Add(-time.Hour)
	r := books.Record{Kind: books.Incident, Trouble: &books.Trouble{Topic: "offline"}}
	if !trade.Note(c, r) || len(c.Records) != 1 || !c.Records[0].Happened.Equal(f.Now) {
		t.Fatalf("noted %+v", c.Records)
	}
	d := c.State.Draft
	if len(d.Photos) != 1 || len(c.Records[0].Photos) != 0 || d.Seq != c.M.Seq || c.Overtaken() {
		t.Errorf("the dialog lent something, or is overtaken: %+v", d)
	}
	seq := c.State.Draft.Seq
	c.State.Draft.Seq-- // somebody else was quicker: the card stays overtaken
	if !trade.Note(c, r) || c.State.Draft.Seq != seq-1 {
		t.Errorf("a card of before is taken for new: %d", c.State.Draft.Seq)
	}
	c = talk(f, "staff1")
	c.F.Shared, c.F.Person.ID = true, 0
	if !trade.Note(c, r) || !c.Records[0].Has(books.SharedPhone) {
		t.Errorf("of a phone on the counter: %+v", c.Records)
	}
	c = talk(f, "staff1")
	if trade.Note(c, books.Record{Kind: books.News, Target: 99}) || c.Notice == "" || len(c.Records) != 0 {
		t.Errorf("news of nothing: %+v", c.Records)
	}
	c.F.Machine = nil
	if trade.Note(c, r) {
		t.Error("noted without a machine")
	}
}

// Owners who want a note of each close are told of one that another made, but not while they
// count it themselves.
func TestOwnersNote(t *testing.T) {
	closed := count + "12 60 80\nstaff1: [I looked]\n"
	f := opened(t, closed+"staff1: 28 90 120\nstaff1: [Confirm]")
	for name, want := range map[string]int{"staff1": 1, "owner": 0} {
		c := talk(f, name)
		c.F.Shop.Plan.EachClose = false // the shop is the same for both
		if trade.OwnersNote(c, f.Machine.Last()); len(c.Replies) != 0 {
			t.Errorf("closed by %s, and no notes wanted: %d", name, len(c.Replies))
		}
		c.F.Shop.Plan.EachClose = true
		if trade.OwnersNote(c, f.Machine.Last()); len(c.Replies) != want {
			t.Errorf("closed by %s: %d notes", name, len(c.Replies))
		}
	}
	f = opened(t, closed+"owner: second count\nstaff1: 28 90 120\nstaff1: [Confirm]")
	if c := talk(f, "staff1"); f.Machine.Last().Status != books.Closed {
		t.Error("not closed")
	} else {
		c.F.Shop.Plan.EachClose = true
		if trade.OwnersNote(c, f.Machine.Last()); len(c.Replies) != 0 {
			t.Errorf("told while counting: %+v", c.Replies)
		}
	}
}

// A result that was shown here, in this chat and of this period, makes the next count not
// blind; so does one that was taken back.
func TestKnew(t *testing.T) {
	f := opened(t, count+"12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]")
	c := talk(f, "staff1")
	p := c.M.Period(1)
	if trade.Knew(c, p) || trade.Saw(c, p) {
		t.Error("known before it was shown")
	}
	trade.Shown(c, p)
	if !trade.Saw(c, p) || !trade.Knew(c, p) || trade.Saw(talk(f, "staff2"), p) {
		t.Error("shown here, and here alone")
	}
	other := *p
	if other.No = 2; trade.Saw(c, &other) {
		t.Error("another period is taken for shown")
	}
	f.Play("staff1: 28 90 120\nstaff1: [Confirm]\nstaff1: undo\nstaff1: [Confirm]")
	if c = talk(f, "staff2"); !trade.Knew(c, c.M.Period(1)) {
		t.Error("a close that was taken back told nobody anything")
	}
}

// A dialog about the open period ends where there is none, and says why.
func TestReady(t *testing.T) {
	f := floor.New(t, dialogs.New)
	c := talk(f, "staff1")
	if trade.Ready(c) != nil || len(c.Replies) != 1 || c.State.Flow != "" {
		t.Errorf("ready with nothing open: %+v", c.Replies)
	}
	f = opened(t, "")
	if c = talk(f, "staff1"); trade.Ready(c) == nil || c.State.Draft.Period != 1 {
		t.Error("not ready with a day open")
	}
	f.Play(count + "12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]")
	if c = talk(f, "staff2"); trade.Ready(c) != nil {
		t.Error("ready with a day that is counted")
	}
}
