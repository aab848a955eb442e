package load_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/shop"
)

var expect = floor.Expect

// first is the first day of trading on these floors, a Monday.
var first = time.Date(2026, 11, 2, 0, 0, 0, 0, time.UTC)

// traded is the example shop at six in the morning after so many days on which
// 28 fifties, 120 tens, and from Monday to Sunday 60, 70 and so on up to 120
// twenties were paid out.
func traded(t *testing.T, days int) *floor.Floor {
	t.Helper()
	f := floor.New(t, dialogs.New)
	for i := range days {
		n, day := 60+10*(i%7), first.AddDate(0, 0, i)
		f.Now = day.Add(6*time.Hour + 40*time.Minute)
		f.Play("staff1: open 40 150 200\nstaff1: [Confirm]")
		f.Now = day.Add(21*time.Hour + 5*time.Minute)
		f.Play(fmt.Sprintf(
			"staff1: close 12 %d 80\nstaff1: [I looked: nothing there]\n"+
				"staff1: 28 %d 120\nstaff1: none\nstaff1: [Confirm]", 150-n, n))
	}
	f.Now = first.AddDate(0, 0, days).Add(6 * time.Hour)
	f.Out.Reset()
	return f
}

// While nothing is known the settings stand in: 40, 150 and 200 notes.
func TestNothingKnown(t *testing.T) {
	f := traded(t, 0)
	expect(t, f.Says("owner", "load"),
		"Today, inside after loading:|40 notes  €2,000|€7,000|No closed day is known yet|[Why?]",
		"[Picture]|days in 100")
	expect(t, f.Taps("owner", "Why"), "50s: nothing is known yet; 40 goes by what was laid down as usual.",
		"Known so far")
	expect(t, f.Says("owner", "60x20"), "60 notes  €1,200|You have 0 x 50s, 60 x 20s, 0 x 10s.|"+
		"Usual would be 40 x 50s, 150 x 20s, 200 x 10s.|[As if I had enough notes]", "Enough 95")
	expect(t, f.Taps("owner", "As if"), "€7,000", "You have|[As if")
	expect(t, f.Says("staff1", "open"),
		"No day is known yet. Usual: 40 x 50s, 150 x 20s, 200 x 10s.|Before you open", "Advice|[Why?]")
	expect(t, f.Says("owner", "backtest"), "too early to look back", "")
	if f.Says("owner", "cash plan"); f.State("owner").Flow != "cash-plan" {
		t.Error("no cash plan")
	}
	f.Says("owner", "none")
	expect(t, f.Says("owner", "none"), "50s: nothing is known yet of what customers take.", "Ask the bank")
}

func TestAdvice(t *testing.T) {
	f := traded(t, 24)
	expect(t, f.Says("owner", "load"), "Today, inside after loading:|That is enough on 95 days in 100.|"+
		"Careful: only 24 days of your own|[Why?]|[Picture]|[How full to load]", "[As if|You have")
	expect(t, f.Taps("owner", "Why"), "50s: a usual Thursday |20s: a usual Thursday |10s: a usual Thursday |"+
		"Known so far: 24 days of your own.|[Back]", "together")
	expect(t, f.Says("owner", "3 days"),
		"Today to Sat 28 Nov, inside after loading:|for such days 95 times in 100", "")
	expect(t, f.Taps("owner", "Why"), "50s: today to Sat 28 Nov together", "a usual")
	expect(t, f.Taps("owner", "Back"), "Today to Sat 28 Nov", "")
	expect(t, f.Says("owner", "10 40 0"),
		"To record what you put in, write: open 10 40 0|You have 10 x 50s, 40 x 20s, 0 x 10s.|"+
			"10 notes    €500|40 notes    €800|€1,300|Enough 95 times in 100 would be ", "That is enough")
	expect(t, f.Says("owner", "12 fifties"), "12 notes    €600|You have 12 x 50s, 40 x 20s, 0 x 10s.",
		"To record")
	expect(t, f.Says("owner", "tomorrow"), "Fri 27 Nov, inside|You have 12 x 50s", "Today")
	expect(t, f.Says("staff1", "load"), "[Why?]|[Picture]", "[How full")
	expect(t, f.Says("staff2", "load soon"), "I don't understand: soon|Today, inside after loading:", "")
	for _, days := range []string{"0 days", "31 days"} {
		expect(t, f.Says("staff2", days), "Today, inside after loading:", "Today to")
	}
	expect(t, f.Says("staff2", "x days"), "I did not understand that.", "Today") // a view is shown once
	expect(t, f.Says("staff2", "30 days"), "Today to Fri 25 Dec", "")
}

// A figure alone is of no kind yet: that is asked, and dropping it is having notes enough.
func TestFigureAlone(t *testing.T) {
	f := traded(t, 24)
	expect(t, f.Says("owner", "load 40"), "write: open 40|[50s]|[20s]|[10s]|[Change]", "You have")
	expect(t, f.Taps("owner", "20s"), "40 notes  €800|You have 0 x 50s, 40 x 20s, 0 x 10s.", "")
	expect(t, f.Taps("owner", "As if"), "That is enough on 95 days in 100.", "You have")
	f.Says("owner", "30")
	expect(t, f.Says("owner", "50s"), "You have 30 x 50s, 0 x 20s, 0 x 10s.", "")
	f.Taps("owner", "As if")
	f.Says("owner", "30")
	expect(t, f.Taps("owner", "Change"), "That is enough on 95 days in 100.", "You have")
	f.Says("owner", "30")
	expect(t, f.Says("owner", "back"), "That is enough on 95 days in 100.", "You have")
}

// The days asked for stay while they are to come; a card of yesterday goes on
// about the next load.
func TestDaysToLoadFor(t *testing.T) {
	f := traded(t, 24)
	expect(t, f.Says("owner", "load until friday"), "Today to Fri 27 Nov", "")
	f.At("2026-11-27 06:00")
	f.Taps("owner", "Why")
	expect(t, f.Taps("owner", "Back"), "Today, inside", "Thu 26 Nov|to Fri")
	f.Play("@2026-11-27 06:40\nstaff1: open 40 150 200\nstaff1: [Confirm]")
	expect(t, f.Says("owner", "load"), "Sat 28 Nov, inside", "Today") // today's load is in
	expect(t, f.Says("owner", "until saturday"), "Sat 28 Nov, inside", "Today|to Sat")
}

// The boxes, the insured limit and whole bundles cut what would be enough.
func TestCuts(t *testing.T) {
	f := traded(t, 24)
	f.Shop.Machines[0].Boxes[1].Capacity = 150
	expect(t, f.Says("owner", "load 3 days"),
		"127 notes|Fuller than 85 in 100, a box feeds badly. Enough 95 times in 100 would be ", "That is enough")
	f = traded(t, 24)
	f.Shop.Limit = decimal.NewFromInt(5000)
	expect(t, f.Says("owner", "load 3 days"), "The insured limit of €5,000 allows no more.", "That is enough")
	f = traded(t, 24)
	f.Shop.Load.Whole, f.Shop.Machines[0].Boxes[1].Capacity = true, 250
	expect(t, f.Says("owner", "load 3 days"), "200 notes   €4,000|Another whole bundle does not fit.", "")
	f = traded(t, 24)
	expect(t, f.Says("owner", "load 0 fifties 400 twenties 400 tens"), "stand in for bigger notes you lack", "")
	f = traded(t, 24)
	f.Shop.Plan.Hold = &shop.Hold{By: 1}
	expect(t, f.Says("owner", "load"), "Advice comes again once a manager has lifted this.", "notes  €|[Why?]")
	expect(t, f.Says("staff1", "open"), "Do not load", "Advice for today")
}

// The line before an opening says the same as the card, and up to ten closed days on how few it rests.
func TestBeforeAnOpening(t *testing.T) {
	f := traded(t, 9)
	expect(t, f.Says("staff1", "open"), "Advice for today: |. We know only 9 days.|[Why?]", "")
	f = traded(t, 10)
	said := f.Says("owner", "load")
	var counts []string
	for _, kind := range []string{"50s", "20s", "10s"} {
		_, after, _ := strings.Cut(said, kind)
		counts = append(counts, strings.Fields(after)[0]+" x "+kind)
	}
	expect(t, f.Says("staff1", "open"), "Advice for today: "+strings.Join(counts, ", ")+".|[Why?]", "")
	expect(t, f.Taps("staff1", "Why"), "a usual Thursday|50s (top box)", "Advice for today")
	f.Says("staff1", "cancel")
	expect(t, f.Says("staff1", "open 40 150 200"), "[Confirm]", "Advice")
	f.Says("staff1", "cancel")
	expect(t, f.Play("staff1: earlier 11.11. 07:00\nstaff1: [Opening]"), "", "Advice")
}

func TestHowFull(t *testing.T) {
	f := traded(t, 24)
	expect(t, f.Play("owner: load\nowner: [How full"),
		"Now: balanced, enough on 95 days in 100.|[Rarely empty]|[Balanced]|"+
			"[Little cash inside]|[Whole bundles only]|[It pays when we are closed, too]|[Back]", "[Confirm]")
	expect(t, f.Says("owner", "costs 0 1"), "could not take in|Now: balanced", "[Confirm]")
	// 1.20 of 1.20 and 0.10 together are 92 in a hundred
	expect(t, f.Says("owner", "costs 1.20 0.10"), "A missed note loses €1.20, one left over costs €0.10 a day: "+
		"then enough on 92 days in 100 is best.|[Confirm]|[Back]", "[Balanced]")
	// 1 of 1.60 are 62.5, which is rounded
	expect(t, f.Says("owner", "costs 1 0.60"), "enough on 63 days in 100 is best", "")
	// leaving would lose them; it is asked first
	expect(t, f.Says("owner", "top up"), "You are in the middle of how much to load.|[Go on", "How many notes")
	f.Chooses("owner", "go-on")
	expect(t, f.Taps("owner", "Back"), "Now: balanced|[Rarely empty]", "[Confirm]")
	expect(t, f.Taps("owner", "Back"), "Today, inside", "Now: balanced")
	expect(t, f.Says("owner", "top up"), "The machine is closed", "in the middle") // nothing is lost any more
	for label, want := range map[string]shop.Load{
		"Rarely empty": {Level: shop.RarelyEmpty}, "Balanced": {Level: shop.Balanced},
		"Little cash": {Level: shop.LittleCash}, "Whole bundles": {Whole: true}, "It pays when": {Always: true},
	} {
		f = traded(t, 0)
		f.Play("owner: load\nowner: [How full")
		if res := tapped(f, label); res.Settings == nil || res.Settings.Load != want {
			t.Errorf("%s: %+v", label, res.Settings)
		}
	}
}

// tapped has the owner tap a button, and gives all that it leads to.
func tapped(f *floor.Floor, label string) chat.Result {
	f.T.Helper()
	b, ok := f.Button("owner", label)
	if !ok {
		f.T.Fatalf("no button %q", label)
	}
	return f.Does("owner", chat.Input{Kind: chat.Press, Tap: b.Data})
}

// Costs stand in the settings exactly as typed, beside what was laid down before.
func TestCostsAreLaidDown(t *testing.T) {
	f := traded(t, 24)
	f.Shop.Load.Whole = true
	f.Play("owner: load\nowner: [How full\nowner: costs 1.25 0.05")
	res := tapped(f, "Confirm")
	l := res.Settings.Load
	if got := l.Missed.String() + " " + l.Idle.String(); l.Level != shop.ByCosts || got != "1.25 0.05" ||
		!l.Whole || l.Always {
		t.Errorf("%+v", l)
	}
	if f.Shop.Load.Level != "" {
		t.Error("the step changed the settings it was given")
	}
	// 1.25 of 1.30 are 96 in a hundred; the card goes by it at once
	if said := res.Replies[len(res.Replies)-1].Body[1].Text; said != "From now on: by your costs, enough on "+
		"96 days in 100." {
		t.Errorf("%q", said)
	}
	if st := f.State("owner"); len(st.Draft.Form) > 0 && strings.Contains(string(st.Draft.Form), "costs") {
		t.Errorf("still in the draft: %s", st.Draft.Form)
	}
	// one who manages no more types none
	f = traded(t, 0)
	f.Play("owner: load\nowner: [How full")
	f.Knows = func(facts *chat.Facts) { facts.Person.Role = shop.Staff }
	expect(t, f.Says("owner", "costs 1.25 0.05"), "could not take in", "is best")
	// one who manages no more when it is confirmed lays nothing down
	f = traded(t, 0)
	f.Play("owner: load\nowner: [How full\nowner: costs 1.25 0.05")
	f.Knows = func(facts *chat.Facts) { facts.Person.Role = shop.Staff }
	if res := tapped(f, "Confirm"); res.Settings != nil {
		t.Errorf("%+v", res.Settings.Load)
	}
}

// The picture shows each kind of note; its days are named at Mondays.
func TestPicture(t *testing.T) {
	f := traded(t, 24)
	f.Says("owner", "load")
	res := tapped(f, "Picture")
	file := res.Replies[0].File
	if file == nil || file.Chart == nil || file.Name != "advice.png" {
		t.Fatalf("%+v", res.Replies)
	}
	c := *file.Chart
	if len(c.Panels) != 3 || c.Panels[1].Name != "20s" || c.Names.Least != "" || c.Names.Band != "10 to 95 "+
		"days in 100" ||
		c.Title != "Example corner shop: notes paid out a day" {
		t.Errorf("%+v", c)
	}
	last := len(c.Panels[1].Past) - 1 // Wednesday 25 November, on which 80 twenties were paid out
	if got := c.Panels[1].Past[last].Paid; got != 80 {
		t.Errorf("%v on the last day", got)
	}
	monday := last - 2 // 23 November
	found := false
	for _, tick := range c.Ticks {
		if (tick.Day-monday)%7 != 0 {
			t.Errorf("%+v is no Monday", tick)
		}
		found = found || tick.Day == monday && tick.Text == "23 Nov"
	}
	if !found {
		t.Errorf("%+v", c.Ticks)
	}
}

// As loaded: over 30 days of a kind none ran out, and 12 fifties, 66 twenties in
// the mean of those ten days and 80 tens were left, together €2,720. As last week:
// as many as were asked for, so nothing is left.
func TestBacktest(t *testing.T) {
	f := traded(t, 24)
	expect(t, f.Says("owner", "backtest"),
		"Looking back, Mon 16 Nov to Wed 25 Nov.|of 30|0 of 30     €2,720|0 of 30         €0|"+
			"added up over 3 kinds of note", "too early")
	expect(t, f.Says("staff1", "backtest"), "bot", "Looking back")
}

// Each day 28 fifties, 60 to 120 twenties and 120 tens go out, €4,200 on the last
// day; the bank has paid nothing of €104,400.
func TestCashPlan(t *testing.T) {
	f := traded(t, 24)
	expect(t, f.Says("owner", "cash plan"), "in the shop's safe|[None]", "")
	expect(t, f.Says("owner", "0 0 0"), "How many notes do the tills usually bring", "")
	said := f.Says("owner", "none")
	expect(t, said, "50s may run out today.|20s may run out today.|10s may run out today.|"+
		"Ask the bank at once; no banking day|"+
		"Due from the bank until Fri 27 Nov: €4,200.|Late from the bank: €100,200. Ask there.",
		"last until|not known")
	expect(t, f.Play("owner: cash plan 5000 9000 9000\nowner: none"),
		"50s last until |20s last until |10s last until |"+
			"Late from the bank: €100,200.", "run out|Ask the bank")
	expect(t, f.Play("owner: cash plan 60 5000 5000\nowner: none"),
		"50s may run out |20s last until |fetch by ", "20s may")
	expect(t, f.Play("owner: cash plan 0 5000 5000\nowner: 50x200"), "last until", "")
	expect(t, f.Says("staff1", "cash plan"), "bot", "in the shop's safe")
}

// What the tills brought to the safe is offered: 2,410 twenties less 10, in 24
// days, are 100 a day. Some 90 a day are paid out, so with those 500 last, and
// without they do not.
func TestTakingsLearned(t *testing.T) {
	f := traded(t, 24)
	f.Play("@2026-11-25 22:00\nowner: move\nowner: [Safe to till]\nowner: 20x10\nowner: [Confirm]\n" +
		"owner: move\nowner: [Till back to safe]\nowner: 20x2410\nowner: [It really]\nowner: [Confirm anyway]\n" +
		"@2026-11-26 06:00")
	expect(t, f.Says("owner", "cash plan 600 500 5000"), "[As moved lately: 100 x 20s]", "")
	expect(t, f.Says("owner", "none"),
		"20s may run out Mon 30 Nov.|Order from the bank today, fetch by Fri 27 Nov|"+
			"200 x 20s, €4,000.", "50s may|10s may")
	f.Says("owner", "cash plan 600 500 5000")
	expect(t, f.Taps("owner", "As moved"), "20s last until Wed 9 Dec at least.", "run out")
}

// Pictures are offered by name and sent as drawings; that of today stays shut while
// somebody counts, and the one of differences is for owners.
func TestPictures(t *testing.T) {
	f := traded(t, 24)
	expect(t, f.Says("owner", "picture"), "[The month]|[What is left]|[Differences]|[Out of service]", "Small")
	for _, word := range []string{"month", "level", "differences", "faults"} {
		said := f.Says("owner", "picture "+word)
		file := f.Last.Replies[0].File
		if file == nil || file.Sheet == nil || file.Name != word+".png" || len(file.Sheet.Graphs) == 0 {
			t.Errorf("picture %s: %s, %+v", word, said, f.Last.Replies)
		}
	}
	f.Shop.People[1].Role = shop.Manager // Ben
	expect(t, f.Says("staff1", "picture differences"), "owner", "[")
	f.Play("staff2: open 40 150 200\nstaff2: [Confirm]\nstaff2: close")
	expect(t, f.Says("owner", "picture level"), "count", "[")
	if f.Last.Replies[0].File != nil {
		t.Error("the level is shown while somebody counts")
	}
	f.Says("owner", "picture month")
	if f.Last.Replies[0].File == nil {
		t.Error("the month stays shut while somebody counts")
	}
}

// Small differences that keep coming back are told by kind of note, with the picture of
// them once there is something to draw.
func TestLeaks(t *testing.T) {
	f := traded(t, 2)
	expect(t, f.Says("owner", "leaks"), "Small differences|20s: too little to tell. 2 closed days", "once")
	f = traded(t, 24)
	expect(t, f.Says("owner", "leaks"), "20s: nothing that keeps coming back, 24 closed days", "missing on")
	if n := len(f.Last.Replies); n != 2 || f.Last.Replies[1].File == nil {
		t.Errorf("%d replies: %+v", n, f.Last.Replies)
	}
	f.Machine.Recent, f.Entries = nil, f.Entries[3:] // a ledger with a hole
	for _, asked := range []string{"leaks", "picture month"} {
		expect(t, f.Says("owner", asked), "cannot be read", "Small|booked")
		if len(f.Last.Replies) != 1 || f.Last.Replies[0].File != nil {
			t.Errorf("%s of a ledger that cannot be read: %+v", asked, f.Last.Replies)
		}
	}
}
