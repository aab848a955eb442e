package closing_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// A count without closing: €4,400 were paid out until then.
func TestSpot(t *testing.T) {
	const spot = "staff1: count now 12 60 80; none; none; [Confirm]; "
	tell(t, opened, []story{
		{"balanced", spot + "28 90 120; none", "The machine stays open|It balances|[Change]",
			"[Count again]|Correct it"},
		{"recorded", spot + "28 90 120; none; [Confirm]",
			"Count recorded, 21:05. The machine stays open.|lock the safe",
			"others> Count"},
		{"refused notes passed over", "staff1: count now 12 58 80; [Not looked]; 28 90 120; none",
			"The check is not complete: the box for refused notes was not counted", "€40"},
		{"refused notes passed over, recorded",
			"staff1: count now 12 58 80; [Not looked]; 28 90 120; none; [Confirm]",
			"others> Count by Ben: one thing|stays open", "Do you know why"},
		{"as much as passes", spot + "28 89 120; none; [Confirm]", "stays open", "Do you know why"},
		{"more than passes", spot + "28 88 120; none; [Confirm]",
			"others> Count by Ben: one thing|20s         62       60  2 missing|Do you know why|" +
				"Your manager is told", ""},
		{"the reason", spot + "28 88 120; none; [Confirm]; a jam", "Kept with the count.|stays open",
			"Kept with the closing"},
		{"no reason", spot + "28 88 120; none; [Confirm]; [Skip]", "stays open", "Kept"},
		{"stopped at the reason", spot + "28 88 120; none; [Confirm]; cancel", "with the machine's figures", ""},
		{"stopped at the figures", spot + "28; cancel", "without the machine's figures", ""},
		{"stopped in the count", "staff1: count now 12; cancel", "Nothing of it was booked", "stays"},
		{"no figures", spot + "[No slip]", "Your count is kept|lock the safe", "others>|finish"},
		{"no waiting for tomorrow", spot + "28", "", "tomorrow"},
		{"a total", spot + "total 4440; none", "€40 too much|total only", ""},
		{"figures of before", "staff1: settle 20 60 80; none; [Confirm]; " +
			strings.TrimPrefix(spot, "staff1: ") + "[Use the slips]",
			// 40 - 20, 150 - 60 and 200 - 80 should be inside
			"50s         20       12   8 missing", "Leave out"},
		{"figures of before, left as they are", "staff1: settle 20 60 80; none; [Confirm]; " +
			strings.TrimPrefix(spot, "staff1: ") + "8", "", "Leave out"},
		{"nothing open", counted + "staff2: count now", "", "top box"},
	})
}

// That a count of now is not complete shows by what it has; only a closing is marked for it.
func TestSpotMarks(t *testing.T) {
	f := opened(t)
	f.Play("staff1: count now 12 58 80; [Not looked]; 28 90 120; none; [Confirm]")
	refused := func(g books.Figure) bool { return g.Field == books.Refused }
	if e := last(f, books.Spot); e.Has(books.NoTray) || slices.ContainsFunc(e.Figures, refused) {
		t.Errorf("on record as %+v", e)
	}
}

// The count of now moves nothing: the books hold what they held.
func TestSpotMovesNothing(t *testing.T) {
	f := opened(t)
	before := fmt.Sprint(f.Machine.Balance)
	f.Play("staff1: count now 12 58 80; none; none; [Confirm]; 28 90 120; none; [Confirm]; [Skip]")
	if after := fmt.Sprint(f.Machine.Balance); before != after {
		t.Errorf("%v became %v", before, after)
	}
	if p := f.Machine.Current(); p == nil || p.Status != books.Open {
		t.Errorf("the period is %+v", p)
	}
	r := last(f, books.SpotPaid)
	if len(r.Amounts) != 1 || r.Amounts[0].Field != books.Difference || r.Amounts[0].Value.String() != "-40" ||
		!r.Due.IsZero() {
		t.Errorf("on record as %+v", r.Record) // two twenties missing; the bank owes nothing by it
	}
}

func TestSettle(t *testing.T) {
	tell(t, opened, []story{
		{"by kind", "staff1: settle 10 30 40; 20x2",
			"Please check|20s  30 notes  €600|should pay €1,460|[Confirm]|[Change]",
			"[No slip"},
		{"recorded", "staff1: settle 10 30 40; none; [Confirm]", "of Wed 25 Nov recorded|should pay €1,500", ""},
		{"a total", "staff1: settle total 1500; none", "€1,500|[Change]", "notes"},
		{"changed", "staff1: settle 10 30 40; none; [Change]; [Paid out, 20s: 30]; 31", "should pay €1,520", ""},
		{"counters restarted", "staff1: settle; [More]; [Counters]; [Skip]; 10 30 40; none", "at least €1,500", ""},
		{"only what came after", "staff1: settle 10 30 40; none; [Confirm]; settle",
			"Already typed in:|21:05, €1,500|[Leave out",
			"[No slip"},
		{"no slip is no answer", "staff1: settle; no slip", "", "kept"},
		{"left out", "staff1: settle 10 30 40; none; [Confirm]; settle; [Leave out]; [Yes, leave]",
			"Left out, 21:05|Now the slip, paid out", "Already typed in"},
		{"not left out", "staff1: settle 10 30 40; none; [Confirm]; settle; [Leave out]; [Back]",
			"Already typed in", ""},
		{"after the count", counted + "staff1: [I must go]; settle 28 90 120; none; [Confirm]",
			"should pay €4,400", ""},
	})
}

func TestSettleNothing(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Expect(f.Says("staff1", "settle"), "not open", "")
	f.Expect(f.Says("staff1", "close"), "not open", "")
	f.Expect(f.Says("staff1", "count now"), "not open", "")
}
