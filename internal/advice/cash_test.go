package advice_test

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/shop"
)

// Before Easter 2026 banks that pay euro are closed from Good Friday, 3 April, to
// Easter Monday, 6 April (European Central Bank, calendar for TARGET closing days,
// 14 December 2000). Twenties that do not last over the weekend have to be there by Thursday
// and are ordered on Wednesday, enough until Tuesday is over.
func TestCashOverEaster(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(86)
	if next != "2026-04-01" {
		t.Fatal(next)
	}
	own := map[cashmath.Face]int64{"50": 5000, "20": 600, "10": 5000}
	claims := []books.Claim{
		{On: "2026-04-02", Value: decimal.NewFromInt(3000)},
		{On: "2026-04-07", Value: decimal.NewFromInt(2500), Paid: decimal.NewFromInt(500)},
		{On: "2026-04-09", Value: decimal.NewFromInt(900)},
		{On: "2026-03-30", Value: decimal.NewFromInt(70)},
		{Value: decimal.NewFromInt(11)},
	}
	p, err := l.outlook(next).Cash(own, nil, claims)
	if err != nil {
		t.Fatal(err)
	}
	if p.RunsOut < "2026-04-03" || p.RunsOut > "2026-04-06" {
		t.Fatalf("600 twenties run out %q", p.RunsOut)
	}
	if p.Fetch != "2026-04-02" || p.OrderBy != "2026-04-01" || p.Through != "2026-04-07" {
		t.Errorf("order by %s, fetch %s, through %s", p.OrderBy, p.Fetch, p.Through)
	}
	for _, line := range p.Lines {
		short := line.Face == "20"
		if (line.RunsOut != "") != short || (line.Order > 0) != short || line.Order%100 != 0 {
			t.Errorf("%+v", line)
		}
	}
	if !p.Credits.Equal(decimal.NewFromInt(5000)) || !p.Late.Equal(decimal.NewFromInt(70)) ||
		!p.Undated.Equal(decimal.NewFromInt(11)) {
		t.Errorf("due %s, late %s, undated %s", p.Credits, p.Late, p.Undated)
	}
}

// What the tills bring puts the day off on which notes run out; a lot of cash lasts.
func TestCashTakings(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(60)
	o := l.outlook(next)
	last := ""
	for _, taking := range []int64{0, 30, 60, 90} {
		p, err := o.Cash(map[cashmath.Face]int64{"50": 9000, "20": 400, "10": 9000},
			map[cashmath.Face]int64{"20": taking}, nil)
		if err != nil {
			t.Fatal(err)
		}
		out := string(p.RunsOut)
		if out == "" {
			out = "never"
		}
		if out < last {
			t.Errorf("with %d twenties a day they run out %s, with fewer %s", taking, out, last)
		}
		last = out
	}
	p, err := o.Cash(notes(20_000), nil, nil)
	if err != nil || p.RunsOut != "" || !p.Value.IsZero() || p.OrderBy != "" {
		t.Errorf("%+v, %v; want cash that lasts", p, err)
	}
}

// Nothing is said of a kind nobody knows anything of.
func TestCashNothingKnown(t *testing.T) {
	l := newLedger(t, nil)
	p, err := l.outlook("2026-01-05").Cash(nil, nil, nil)
	if err != nil || p.RunsOut != "" || p.Lines[0].Known {
		t.Errorf("%+v, %v", p, err)
	}
	if p.Sight != p.From.Add(advice.SightDays-1) {
		t.Errorf("looks until %s", p.Sight)
	}
}

// Irish branches keep the Irish holiday of St Brigid, first Monday of February, on which
// the euro's settlement system is open; notes are fetched before it.
func TestCashBranchHoliday(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(25) // up to Thursday, 29 January 2026
	p, err := l.outlook(next.Add(1)).Cash(map[cashmath.Face]int64{"50": 9000, "20": 250, "10": 9000}, nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	if p.RunsOut < "2026-01-31" || p.RunsOut > "2026-02-02" {
		t.Fatalf("runs out %q", p.RunsOut)
	}
	if p.Fetch != "2026-01-30" || p.OrderBy != "2026-01-29" || p.Through != "2026-02-03" {
		t.Errorf("order by %s, fetch %s, through %s", p.OrderBy, p.Fetch, p.Through)
	}
}

// The takings of a day can be loaded the next morning and not before: whoever has a
// note too few for today runs out today, however much the tills bring. From the second
// morning on they count, but none for a day on which the shop does not trade.
func TestCashNextMorning(t *testing.T) {
	l := newLedger(t, func(s *shop.Settings) { s.Hours[0], s.Load.Always = shop.Hours{}, true })
	next := l.weeks(75) // up to a Friday, so that it looks from a Saturday on
	o := l.outlook(next)
	one, two, three := needed(t, o, next, 1), needed(t, o, next, 2), needed(t, o, next, 3)
	for _, c := range []struct {
		name           string
		notes, takings int64
		want           shop.Date // empty: does not run out
	}{
		{"a note too few today", one - 1, 100_000, next},
		{"enough for today", one, 100_000, ""},
		{"a note too few tomorrow", one, two - one - 1, next.Add(1)},
		{"Saturday's takings for Sunday, none of Sunday's for Monday", one, three - one - 1, next.Add(2)},
	} {
		p, err := o.Cash(map[cashmath.Face]int64{"50": 9000, "20": c.notes, "10": 9000},
			map[cashmath.Face]int64{"20": c.takings}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if p.RunsOut != c.want {
			t.Errorf("%s: %d twenties and %d a day run out %q, want %q", c.name, c.notes, c.takings, p.RunsOut, c.want)
		}
	}
}

// needed is how many twenties are enough for so many days from one on, on 95 of 100 such
// stretches.
func needed(t *testing.T, o *advice.Outlook, from shop.Date, days int) int64 {
	t.Helper()
	list := make([]demand.Day, days)
	for i := range list {
		list[i] = demand.DayOf(from.Add(i).Time().Date())
	}
	f, known := o.Of("20", list)
	q, err := f.Quantile(0.95)
	if !known || err != nil {
		t.Fatal(known, err)
	}
	return int64(math.Ceil(q))
}

// It looks fourteen days ahead, the last one included; the first of several kinds to run out
// decides; and what is ordered is in whole bundles, none more than it takes.
func TestCashToTheNote(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(40) // up to Friday, 13 February 2026; no holiday comes within two weeks
	o := l.outlook(next)
	cash := func(fifties, twenties, tens int64) advice.Plan {
		p, err := o.Cash(map[cashmath.Face]int64{"50": fifties, "20": twenties, "10": tens}, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	if p := cash(9000, needed(t, o, next, 14)-1, 9000); p.RunsOut != next.Add(13) {
		t.Errorf("a note too few for the fourteenth day: runs out %q", p.RunsOut)
	}
	if p := cash(9000, needed(t, o, next, 14), 9000); p.RunsOut != "" {
		t.Errorf("enough for all fourteen days: runs out %q", p.RunsOut)
	}
	third := needed(t, o, next, 3) - 1
	for _, p := range []advice.Plan{cash(9000, third, 0), cash(0, third, 9000), cash(0, third, 0)} {
		if p.RunsOut != next || p.Lines[1].RunsOut != next.Add(2) {
			t.Errorf("another kind runs out before: %q, twenties %q", p.RunsOut, p.Lines[1].RunsOut)
		}
	}
	p := cash(9000, third, 9000)
	days := int(p.Through.Time().Sub(next.Time()).Hours()/24) + 1 // enough until that day is over
	through := needed(t, o, next, days)
	for missing, want := range map[int64]int64{1: 100, 100: 100, 101: 200, 200: 200} {
		p := cash(9000, through-missing, 9000)
		if p.Through != next.Add(days-1) {
			continue // so few that another day decides
		}
		if p.Lines[1].Order != want || !p.Value.Equal(decimal.NewFromInt(20*want)) {
			t.Errorf("%d missing until %s: %d ordered, worth %s", missing, p.Through, p.Lines[1].Order, p.Value)
		}
	}
}

// A claim due on the first day is not late, and one due on the last day is in sight.
func TestCashClaimsAtTheEnds(t *testing.T) {
	l := newLedger(t, nil)
	next := l.weeks(60)
	claim := func(on shop.Date, value int64) books.Claim {
		return books.Claim{On: on, Value: decimal.NewFromInt(value)}
	}
	p, err := l.outlook(next).Cash(notes(20_000), nil, []books.Claim{
		claim(next.Add(-1), 1), claim(next, 2), claim(next.Add(13), 4), claim(next.Add(14), 8), claim("", 16),
		{On: next, Value: decimal.NewFromInt(32), Paid: decimal.NewFromInt(32)},
	})
	if err != nil {
		t.Fatal(err)
	}
	if p.Late.String() != "1" || p.Credits.String() != "6" || p.Undated.String() != "16" {
		t.Errorf("late %s, due %s, undated %s; want 1, 6 and 16", p.Late, p.Credits, p.Undated)
	}
}
