package telling_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
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

// closing counts what is left and types in what was paid out and cancelled.
func closing(left, tray, paid, cancelled string) string {
	if tray[0] != '[' { // which books the count at once
		tray += "\nstaff1: [Confirm]"
	}
	return count + left + "\nstaff1: " + tray + "\nstaff1: " + paid +
		"\nstaff1: " +
		cancelled
}

// What a count and a slip say, in words. 40, 150 and 200 notes went in.
func TestVerdict(t *testing.T) {
	for name, s := range map[string]struct{ script, want, not string }{
		"balances": {closing("12 60 80", "none", "28 90 120", "none"),
			"It balances, every kind.|pay €4,400", "missing|Look|should be"},
		"missing": {closing("12 51 80", "none", "28 90 120", "none"),
			"20s         60       51  9 missing|€180 is missing|the box for refused notes, and along the way",
			"too many"},
		"missing, and the box was looked into": {closing("12 50 80", "20x1", "28 90 120", "none"),
			"20s         60       51  9 missing|count again, read", "along the way"},
		"too many": {closing("12 62 80", "none", "28 90 120", "none"),
			"2 too many|€40 too much|count again, read", "missing"},
		"just as many as were cancelled": {closing("12 60 80", "none", "28 90 120",
			"[Change]\nstaff1: [Cancelled, 20s: 0]\nstaff1: 3"),
			"20s         63       60  3 missing|Just as many notes are missing|Or: the slip.|pay €4,340",
			"along the way"},
		"only a total": {closing("12 60 80", "none", "total 4370", "0"),
			"€30 is missing|cannot say which notes", "should be"},
		"a total that fits": {closing("12 60 80", "none", "total 4400", "0"), "It balances", "missing"},
		"box not counted": {closing("12 59 80", "[Not looked]", "28 90 120", "none"),
			"20s         60       59  1 missing|not complete", "€20 is missing"},
		"counters from before unknown": {closing("12 60 80", "none",
			"[More]\nstaff1: [Counters]\nstaff1: [Skip]\nstaff1: 10 30 40", "none"),
			"20s          ?       60|what was paid out before|at least €1,500", "missing|too many"},
		"two slips": {"@2026-11-25 15:00\nstaff1: settle 10 30 40\nstaff1: none\nstaff1: [Confirm]\n" +
			closing("12 60 80", "none", "18 60 80", "none"), "It balances|€1,500 + €2,900", "twice"},
		"a slip that is in twice": {
			"@2026-11-25 15:00\nstaff1: settle 10 30 40\nstaff1: none\nstaff1: [Confirm]\n" +
				closing("12 60 80", "none", "28 90 120", "none"),
			"15:00, €1,500|in twice, by themselves|[Leave out 15:00", "It balances"},
		"a total that is in twice": {
			"@2026-11-25 15:00\nstaff1: settle total 1500\nstaff1: 0\nstaff1: [Confirm]\n" +
				closing("12 60 80", "none", "total 4400", "0"), "15:00, €1,500|in twice", "It balances"},
		"a top-up typed wrongly": {"staff1: top up 20x100\nstaff1: [Confirm]\n" + closing("12 70 80", "none",
			"28 90 120", "none"),
			"20s        160       70  90 missing", "It balances"},
	} {
		t.Run(name, func(t *testing.T) { expect(t, opened(t, "").Play(s.script), s.want, s.not) })
	}
}

// Owners are told of a close with the day's money, faults in it and what is due.
func TestNote(t *testing.T) {
	f := opened(t, "")
	f.Play(closing("12 60 80", "none", "28 90 120", "none"))
	expect(t, f.Taps("staff1", "Confirm"), "", "bot@others> Closing of") // it is in the letter of the week
	f = opened(t, "")
	f.Shop.Plan.EachClose = true
	f.Play(closing("12 60 80", "none", "28 90 120", "none"))
	expect(t, f.Taps("staff1", "Confirm"),
		"bot@others> Closing of Wed 25 Nov.|put in    €7,000|paid out  €4,400|"+
			"The bank owes €4,400: due Thu 26 Nov|Check word", "")
	f = opened(t, "")
	f.Shop.Plan.EachClose = true
	f.Play(strings.ReplaceAll(closing("12 60 80", "none", "28 90 120", "none"), "staff1:", "owner:"))
	expect(t, f.Taps("owner", "Confirm"), "Nov recorded", "bot@others> Closing of|Check word")
	expect(t, f.Taps("owner", "All done"), "Check word", "")
	for _, date := range []string{"2026-11-26", "2026-11-27", "2026-11-28"} { // three due dates: two are named
		f.Play("@" + date + " 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]\n" + strings.Replace(
			closing("12 60 80", "none", "28 90 120", "none"), "2026-11-25", date, 1))
		expect(t, f.Taps("staff1", "Confirm"), "The bank owes", "")
	}
	if note := telling.NoteOf(talk(f, "owner").Teller, f.Machine.Last()); len(note.Body) == 0 || !note.Silent {
		t.Errorf("note %+v", note)
	} else {
		expect(t, note.Body[len(note.Body)-1].Text,
			"€17,600|late, was due Thu 26 Nov; late, was due Fri 27 Nov; …", "30 Nov")
	}
}

// Records in words: who, when, figures, and what became of them.
func TestHistoryLine(t *testing.T) {
	f := opened(t, `
		staff1: borrow 5x20
		staff1: [Confirm]
		staff1: top up 10x5
		staff1: [Confirm]
		staff1: undo
		staff1: [Confirm]
		owner: correct 2
		owner: [It never]
		owner: [Typed]
		owner: [Confirm]
	`)
	c := talk(f, "owner")
	var lines []string
	for _, b := range f.Machine.Recent {
		lines = append(lines, telling.HistoryLine(c.Teller, b))
	}
	for i, want := range []string{"40 x 50s, 150 x 20s, 200 x 10s = €7,000",
		"change for the till, 5 x 20s = €100 (corrected, see 5)",
		"5 x 10s = €50 (taken back)", "06:40 undone, Ben (number 3)", "takes 2 back: typed wrongly"} {
		if !strings.Contains(lines[i], want) {
			t.Errorf("%q is missing in %s", want, lines[i])
		}
	}
	b := f.Machine.Recent[0]
	b.Recorded = b.Happened.Add(6 * time.Minute)
	expect(t, telling.HistoryLine(c.Teller, b), "06:46", "")
	b.Recorded = b.Happened.Add(5 * time.Minute)
	expect(t, telling.HistoryLine(c.Teller, b), "opening", "06:45")
}

// A count that waits for its slip stays unseen by others, so that a second one can
// be honest; who counted sees it.
func TestSealed(t *testing.T) {
	f := opened(t, "")
	f.Play(count + "12 60 80\nstaff1: none\nstaff1: none\nstaff1: [Confirm]\nstaff1: [I must go]")
	expect(t, f.Says("owner", "history"), "closing count, Ben", "12 x 50s")
	expect(t, f.Says("staff1", "history"), "12 x 50s, 60 x 20s", "")
	expect(t, f.Says("owner", "status"), "Wed 25 Nov", "€2,600")
}

// Due dates go by the clock of the shop: 23:30 in Auckland on Wednesday 25 November
// is 10:30 in Greenwich. One bank day, and none told.
func TestDueOn(t *testing.T) {
	f := opened(t, "")
	at := time.Date(2026, 11, 27, 23, 30, 0, 0, time.UTC)
	if on := telling.DueOn(talk(f, "owner").Teller, at); on != "2026-11-30" {
		t.Errorf("due on %s, want Monday", on)
	}
	zone := time.FixedZone("", 13*3600)
	f.Shop.Location, f.Shop.CreditDays = zone, 2
	at = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	if on := telling.DueOn(talk(f, "owner").Teller, at); on != "2026-11-30" {
		t.Errorf("due on %s: in the east it was Thursday, and two bank days later is Monday", on)
	}
	f.Shop.CreditDays = 0
	if on := telling.DueOn(talk(f, "owner").Teller, at); on != "" {
		t.Errorf("due on %s without a rule", on)
	}
}

// The most a box can hold: what was put in, or the last level shown and what was
// added since. A level from paper that came in late is no newer one.
func TestEstimate(t *testing.T) {
	f := opened(t, "")
	left := func() [2]any {
		n, shown := f.Machine.Current().Estimate(2)
		return [2]any{n, shown}
	}
	if got := left(); got != [2]any{int64(150), false} {
		t.Errorf("before any level: %v", got)
	}
	f.Play("@2026-11-25 10:00\nstaff1: level 40 110 200\nstaff1: [Confirm]\n" +
		"staff1: top up 20x5\nstaff1: [Confirm]")
	if got := left(); got != [2]any{int64(115), true} {
		t.Errorf("110 shown and 5 added: %v", got)
	}
	p := *f.Machine.Current()
	late := p.Readings[0]
	late.Happened, late.Boxes = late.Happened.Add(-time.Hour), []int64{40, 140, 200}
	p.Readings = append(slices.Clone(p.Readings), late)
	if n, _ := p.Estimate(2); n != 115 {
		t.Errorf("with an older level: %d", n)
	}
	if n, shown := p.Estimate(9); n != 0 || shown {
		t.Errorf("a box that is none holds %d", n)
	}
}

func TestHowLong(t *testing.T) {
	c := talk(opened(t, ""), "owner")
	for d, want := range map[time.Duration]string{
		0: "0 min", 25*time.Minute + 29*time.Second: "25 min", 59*time.Minute + 30*time.Second: "1 h",
		190 * time.Minute: "3 h 10 min", 52 * time.Hour: "2 days 4 h",
	} {
		if got := telling.HowLong(c.Teller, d); !strings.HasPrefix(got, want) {
			t.Errorf("%s: %s, want %s", d, got, want)
		}
	}
}

// Nothing is open: since when, or that a count waits; of something from earlier,
// whether it was open then.
func TestNothingOpen(t *testing.T) {
	f := floor.New(t, dialogs.New)
	expect(t, telling.NothingOpen(talk(f, "staff1").Teller, time.Time{}), "not open", "21:05")
	f = opened(t, "")
	f.Play(closing("12 60 80", "none", "28 90 120", "none"))
	expect(t, f.Says("staff1", "cancel"), "", "")
	expect(t, telling.NothingOpen(talk(f, "staff1").Teller, time.Time{}), "Wed 25 Nov", "21:05")
	f = opened(t, "")
	f.Play(closing("12 60 80", "none", "28 90 120", "none") + "\nstaff1: [Confirm]")
	expect(t, telling.NothingOpen(talk(f, "staff1").Teller, time.Time{}), "21:05 by Ben", "")
	for clock, want := range map[string]string{"2026-11-24 12:00": "not open", "2026-11-25 12:00": "closed",
		"2026-11-27 12:00": "not open"} {
		c := talk(f, "staff1")
		c.State.Draft.Happened, _ = time.ParseInLocation("2006-01-02 15:04", clock, f.Shop.Location)
		why, closed := telling.ClosedThen(c.Teller, c.State.Draft.Happened)
		if (closed != nil) != (want == "closed") || why == "" ||
			telling.NothingOpen(c.Teller, c.State.Draft.Happened) != why {
			t.Errorf("%s: %s", clock, why)
		}
	}
}

// The checklist: asked until all is ticked off, with a printed total that differs.
func TestTicks(t *testing.T) {
	f := opened(t, "")
	p := f.Machine.Current()
	c := talk(f, "staff1")
	if at, ok := telling.TicksBegan(c.Teller, p.No); !ok || !at.Equal(p.TicksAt) {
		t.Errorf("asked at %s %v", at, ok)
	}
	if _, ok := telling.TicksBegan(c.Teller, 99); ok {
		t.Error("a list of no period")
	}
	expect(t, telling.Tick(c.Teller, p, "total"), "€7,000", "")
	f.Play("staff1: printed 7010\nstaff1: [Confirm]")
	expect(t, telling.Tick(talk(f, "staff1").Teller, f.Machine.Current(), "total"), "€7,010|€7,000", "")
	if !f.Machine.Current().SlipDiffers() || telling.TicksKey(1) != "ticks-1" {
		t.Error("the slip is said to agree")
	}
	f.Play("staff1: printed 7000\nstaff1: [Confirm]")
	if sum := f.Machine.Current().PutIn().String(); sum != "7000" {
		t.Errorf("%s was put in", sum)
	}
	if f.Machine.Current().SlipDiffers() {
		t.Error("the slip is said to differ")
	}
	f.Play("staff1: [All done]\nstaff1: [With]\nstaff1: [Back in]\nstaff1: [No]")
	if _, ok := telling.TicksBegan(talk(f, "staff1").Teller, p.No); ok {
		t.Error("a list of which all is done is asked again")
	}
}
