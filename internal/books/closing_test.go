package books_test

import (
	"reflect"
	"slices"
	"testing"

	"shopfloat/internal/books"
)

// A count made anew stands in the place of the first: what the first put into
// the box for refused notes and aside comes back to be explained.
func TestCountedAnew(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 12, 60, 80, kind(books.Refused, 2, 3), kind(books.FoundAt, 3, 1)))
	if p := l.m.Period(1); p.Gone["20"] != 150-60-3 || p.Gone["10"] != 200-80-1 {
		t.Fatalf("gone %v", p.Gone)
	}
	second := left(1, 12, 61, 80, kind(books.Refused, 2, 1))
	second.Marks = []books.Mark{books.NotBlind}
	moves := l.post(second)
	want := []books.Move{
		{From: books.Gone, To: books.BoxPlace(2), Face: "20", Notes: 1}, // 61 in the box, not 60
		{From: books.Tray, To: books.Gone, Face: "20", Notes: 2},        // 1 refused, not 3
		{From: books.Path, To: books.Gone, Face: "10", Notes: 1},        // none aside
	}
	if !reflect.DeepEqual(moves, want) {
		t.Errorf("movements %v\nwant      %v", moves, want)
	}
	p := l.m.Period(1)
	if p.Counts != 2 || p.CountSeq != 3 || p.Gone["20"] != 150-61-1 || p.Gone["10"] != 120 || len(p.Path) > 0 ||
		p.Tray["20"] != 1 || !p.Has(books.NotBlind) || p.Box(2).Remaining != 61 {
		t.Errorf("period %+v", p)
	}
	if got := l.m.Inside()["20"]; got != 61 {
		t.Errorf("%d twenties are left for the next opening, want 61", got)
	}
}

// The next opening came while the first count stood; the second one is of what
// was there then, so it is refused, not carried over today's notes.
func TestCountedAnewOfAnOlderDay(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(onPaper())
	l.post(left(1, 12, 60, 80))
	l.post(opening())
	l.post(books.Record{Kind: books.Count, Period: 2, Figures: []books.Figure{fig(books.Remaining, 1, 9)}})
	if l.m.Open != 4 || l.m.Carried != nil {
		t.Errorf("open %d, carried %v: a count of the paper day touched today", l.m.Open, l.m.Carried)
	}
}

// The box for refused notes was not counted: what lay in it stays there, and a
// close that seems short says nothing. Once it is counted, the mark is off.
func TestTrayNotCounted(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Found, Period: 1, Where: books.Tray,
		Figures: []books.Figure{kind(books.FoundAt, 2, 4)}})
	count := left(1, 12, 60, 80)
	count.Marks = []books.Mark{books.NoTray}
	l.post(count)
	l.holds(books.Tray, books.Notes{"20": 4})
	l.post(paid(1, 28, 80, 120))
	// 20s: 150 - 80 = 70 should be inside; 60 + 4 are known of. The rest may lie in the tray.
	short := l.branch()
	short.post(closing(1, books.Cash))
	p := short.m.Period(1)
	if p.Verdict != books.NotComplete || len(short.m.Recent[len(short.m.Recent)-1].Amounts) != 0 {
		t.Errorf("verdict %s, booked %v", p.Verdict, short.m.Recent)
	}
	short.holds(books.Tray, books.Notes{"20": 4})
	l.post(left(1, 12, 60, 80, kind(books.Refused, 2, 10)))
	l.post(closing(1, books.Cash))
	if p := l.m.Period(1); p.Verdict != "balanced" || p.Has(books.NoTray) {
		t.Errorf("verdict %s %s, marks %v", p.Verdict, p.Variance, p.Marks)
	}
	l.holds(books.Tray, nil)
}

// branch is a ledger that goes on from here by itself.
func (l *ledger) branch() *ledger {
	return &ledger{t: l.t, m: l.m.Clone(), entries: slices.Clone(l.entries)}
}

// A tray that was not counted does no harm where nothing is missing.
func TestTrayNotCountedAndBalanced(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	count := left(1, 12, 60, 80)
	count.Marks = []books.Mark{books.NoTray}
	l.post(count)
	l.post(paid(1, 28, 90, 120))
	l.post(closing(1, books.Cash))
	if p := l.m.Period(1); p.Verdict != "balanced" {
		t.Errorf("verdict %s", p.Verdict)
	}
}

// The last figures before the counters started again are not known: the close
// tells no difference, whatever it comes to, and the mark is kept once.
func TestUnsettled(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 12, 60, 80))
	for range 2 {
		slip := paid(1, 14, 45, 60)
		slip.Marks = []books.Mark{books.Restarted, books.Unsettled}
		l.post(slip)
	}
	l.post(closing(1, books.Cash))
	p := l.m.Period(1)
	if p.Verdict != books.NotComplete || !slices.Equal(p.Marks, []books.Mark{books.Unsettled}) {
		t.Errorf("verdict %s, marks %v", p.Verdict, p.Marks)
	}
}

// Figures from before the counters started again count as paid out.
func TestLastSeen(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 12, 60, 80))
	slip := paid(1, 20, 40, 120)
	slip.Figures = append(slip.Figures, kind(books.LastSeen, 1, 8), kind(books.LastSeen, 2, 50))
	l.post(slip)
	// 50s: 40 - 20 - 8 = 12; 20s: 150 - 40 - 50 = 60; due 28 x 50 + 90 x 20 + 120 x 10 = 4,400.
	l.owes(4400)
	l.post(closing(1, books.Cash))
	if p := l.m.Period(1); p.Verdict != "balanced" {
		t.Errorf("%s %s", p.Verdict, p.Variance)
	}
}

// total is a slip of amounts alone: paid out, before the counters started again,
// and cancelled.
func total(no, paidOut, lastSeen, cancelled int64) books.Record {
	return books.Record{Kind: books.Settlement, Period: no, Amounts: []books.Amount{
		{Field: books.PaidOut, Value: money(paidOut)}, {Field: books.LastSeen, Value: money(lastSeen)},
		{Field: books.Cancelled, Value: money(cancelled)}}}
}

// Only sums of money are known: 7,000 loaded, 2,600 left, 4,000 + 450 paid out of
// which 40 were cancelled. 7,000 - 4,450 + 40 = 2,590 should be there: 10 too much.
func TestTotalsOnly(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 12, 60, 80))
	if moves := l.post(total(1, 4000, 450, 40)); len(moves) != 0 {
		t.Errorf("a sum of money moves %v", moves)
	}
	l.owes(4410)
	p := l.m.Period(1)
	if paid, back := p.Paid(); !p.TotalOnly() || !paid.Equal(money(4450)) || !back.Equal(money(40)) {
		t.Errorf("paid out %s, cancelled %s", paid, back)
	}
	if c := l.m.Claims[0]; !c.Back.Equal(money(40)) {
		t.Errorf("claim %+v", c)
	}
	l.post(closing(1, books.Cash))
	p = l.m.Period(1)
	if p.Verdict != "over" || !p.Variance.Equal(money(10)) || p.ByFace != nil {
		t.Errorf("%s %s by %v", p.Verdict, p.Variance, p.ByFace)
	}
	// Which notes they were nobody knows, so what went has gone to customers.
	l.holds(books.Customers, books.Notes{"50": 28, "20": 90, "10": 120})
	l.holds(books.OverShort, nil)
}

// One slip in notes, another in money: the totals of both count.
func TestMixedSlips(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 12, 60, 80))
	notes := paid(1, 28, 90, 0) // 1,400 + 1,800
	notes.Figures = append(notes.Figures, kind(books.Cancelled, 1, 2))
	l.post(notes)
	l.post(total(1, 1300, 0, 0))
	p := l.m.Period(1)
	if paid, back := p.Paid(); !paid.Equal(money(4500)) || !back.Equal(money(100)) || !p.TotalOnly() {
		t.Errorf("paid out %s, cancelled %s", paid, back)
	}
	if one, two := p.Slips[0].Paid(), p.Slips[1].Paid(); !one.Equal(money(3200)) || !two.Equal(money(1300)) {
		t.Errorf("slips of %s and %s", one, two)
	}
}

// What is ticked is off the list; what a close leaves to do comes behind.
func TestTicks(t *testing.T) {
	l := newLedger(t)
	open := opening()
	open.Ticks = []string{"boxes", "typed", "locked"}
	l.post(open)
	l.post(books.Record{Kind: books.Checks, Period: 1, Ticks: []string{"typed", "boxes", "unknown"}})
	if p := l.m.Period(1); !slices.Equal(p.Ticks,
		[]string{"locked"}) || !p.TicksAt.Equal(l.entries[1].Recorded) {
		t.Errorf("still to do %v, since %v", p.Ticks, p.TicksAt)
	}
	count := left(1, 12, 60, 80)
	count.Ticks = []string{"away"}
	l.post(count)
	close := closing(1, books.Cash)
	close.Ticks = []string{"slip"}
	l.post(close)
	if p := l.m.Period(1); !slices.Equal(p.Ticks, []string{"away", "slip"}) || p.EndedBy != 1 ||
		!p.Ended.Equal(l.entries[3].Happened) {
		t.Errorf("still to do %v, ended by %d at %v", p.Ticks, p.EndedBy, p.Ended)
	}
}

// The printed total after loading is kept as it was typed.
func TestPrintedTotal(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(books.Record{Kind: books.Printed, Period: 1,
		Amounts: []books.Amount{{Field: books.Loaded, Value: money(6990)}}})
	p := l.m.Period(1)
	if p.Total == nil || !p.Total.Equal(money(6990)) || !p.Loaded().Value().Equal(money(7000)) {
		t.Errorf("printed %v, loaded %v", p.Total, p.Loaded())
	}
}

// What lies in the box for refused notes and aside goes where the notes are put
// away; where those stay in, it is taken out all the same, into the shop's cash.
func TestRefusedNotesLeaveTheMachine(t *testing.T) {
	for where, to := range map[books.Place]books.Place{"": books.Cash, books.Cash: books.Cash,
		books.Till: books.Till} {
		l := newLedger(t)
		l.post(opening())
		l.post(left(1, 40, 140, 200, kind(books.Refused, 2, 7), kind(books.FoundAt, 2, 3)))
		moves := l.post(closing(1, where))
		out := int64(0)
		for _, m := range moves {
			if m.From == books.Tray || m.From == books.Path {
				out += m.Notes
				if m.To != to {
					t.Errorf("closed with %q: %d refused or found notes go to %s", where, m.Notes, m.To)
				}
			}
		}
		if out != 10 {
			t.Errorf("closed with %q: %d notes leave, want 7 + 3", where, out)
		}
	}
}

// A day without top-ups or removals has none in its figures either.
func TestDayOfAPeriod(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	d := l.m.Period(1).Day()
	if d.Topups != nil || d.Removed != nil || d.Loaded["20"] != 150 {
		t.Errorf("the day is %+v", d)
	}
	l.post(books.Record{Kind: books.Swap, Period: 1, Figures: []books.Figure{
		fig(books.Left, 2, 40), fig(books.Added, 2, 100)}})
	d = l.m.Period(1).Day()
	if len(d.Topups) != 1 || d.Topups[0]["20"] != 100 || len(d.Removed) != 1 || d.Removed[0]["20"] != 40 {
		t.Errorf("after a swap the day is %+v", d)
	}
}

// Test notes are taken for paid out until a slip comes; from then on those are that it says.
func TestDayWithTests(t *testing.T) {
	l := newLedger(t)
	test := books.Record{Kind: books.Test, Period: 1, Where: books.Till, Marks: []books.Mark{books.Counted},
		Figures: []books.Figure{fig(books.Tried, 2, 1)}}
	l.post(opening())
	for n, want := range []int64{0, 1, 1, 1, 2} {
		switch n {
		case 1, 3:
			l.post(test)
		case 2, 4:
			l.post(paid(1, 0, int64(n), 0))
		}
		if d := l.m.Period(1).Day(); d.Test["20"] != want {
			t.Errorf("after %d records the tests of the day are %d, want %d", n+1, d.Test["20"], want)
		}
	}
}

// A day whose figures come when later days are closed is at hand right after its own
// close, so that its result can be told; then it goes.
func TestAnOldDayIsAtHandWhenItIsClosed(t *testing.T) {
	l := newLedger(t)
	l.post(opening())
	l.post(left(1, 40, 60, 200))
	for range 3 {
		no := l.m.Seq + 1
		l.post(opening())
		l.post(left(no, 40, 60, 200))
		l.post(paid(no, 0, 90, 0))
		l.post(closing(no, books.Cash))
	}
	l.post(paid(1, 0, 90, 0))
	l.post(closing(1, books.Cash))
	if p := l.m.Period(1); p == nil || p.Verdict != "balanced" {
		t.Errorf("%+v", p)
	}
	l.refold(t)
	l.post(opening())
	if len(l.m.Periods) != 3 || l.m.Period(1) != nil {
		t.Errorf("%d periods at hand", len(l.m.Periods))
	}
	l.refold(t)
}
