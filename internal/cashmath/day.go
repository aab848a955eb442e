package cashmath

import (
	"maps"
	"slices"

	"github.com/shopspring/decimal"
)

// Notes counts notes per face value. A face that is absent counts 0.
type Notes map[Face]int64

// Value is what all the notes are worth together.
func (n Notes) Value() decimal.Decimal {
	total, units := decimal.Zero, int64(0)
	for face, count := range n {
		if whole := face.whole(); whole > 0 && small(count) {
			units += whole * count
			continue
		}
		total = total.Add(Value(face, count))
	}
	return total.Add(decimal.NewFromInt(units))
}

// Sum adds up several lots of notes, face by face.
func Sum(lots ...Notes) Notes {
	sum := Notes{}
	for _, lot := range lots {
		for face, count := range lot {
			sum[face] += count
		}
	}
	return sum
}

// Day holds the figures of one period, from loading to counting, in notes per face.
type Day struct {
	Loaded    Notes   // counted in at the opening
	Topups    []Notes // added later, one entry each
	Removed   []Notes // taken out during the period, one entry each
	Dispensed Notes   // paid out by the machine's own totals, tests included
	Reversed  Notes   // of those, cancelled and not paid out
	Remaining Notes   // left in the cassettes at the count
	Rejects   Notes   // in the box for refused notes
	Found     Notes   // found elsewhere in the machine
	Test      Notes   // paid out in tests, so they lie in tray or box again
}

// Verdict is the day's result in one word.
type Verdict string

// The verdicts. Mixed: lines differ, yet their values add up to nothing.
const (
	Balanced Verdict = "balanced"
	Short    Verdict = "short"
	Over     Verdict = "over"
	Mixed    Verdict = "mixed"
)

// Line is one face value's part of the result.
type Line struct {
	Face          Face
	Expected      int64 // notes that should be inside; below 0 if more went out than came in
	Counted       int64 // notes that were counted
	VarianceNotes int64 // Counted less Expected: below 0 is missing
	VarianceValue decimal.Decimal
}

// Result is what a day's figures come to.
type Result struct {
	Lines         []Line // every face in any field, by falling face value
	TotalVariance decimal.Decimal
	Verdict       Verdict
	CreditDue     decimal.Decimal // what the bank owes: dispensed less reversed and tests
}

// Faces lists every face value that stands in any field, even with 0, by falling value.
func (d Day) Faces() []Face {
	all := Sum(d.In(), d.Out(), d.Counted(), d.Reversed, d.Test)
	return slices.SortedFunc(maps.Keys(all), func(a, b Face) int { return b.Cmp(a) })
}

// In is everything that was put into the machine: the opening load and all top-ups.
func (d Day) In() Notes { return Sum(append([]Notes{d.Loaded}, d.Topups...)...) }

// Out is everything taken out of the machine by hand or paid out, before reversals.
func (d Day) Out() Notes { return Sum(append([]Notes{d.Dispensed}, d.Removed...)...) }

// Counted is everything the count found: cassettes, refused notes and finds.
func (d Day) Counted() Notes { return Sum(d.Remaining, d.Rejects, d.Found) }

// Reconcile compares what should be inside with what was counted.
//
//	expected   = loaded + topups - removed - dispensed + reversed + test
//	counted    = remaining + rejects + found
//	credit due = dispensed - reversed - test, at face value
func Reconcile(d Day) Result {
	in, out, counted := d.In(), d.Out(), d.Counted()
	result := Result{CreditDue: d.Dispensed.Value().Sub(d.Reversed.Value()).Sub(d.Test.Value())}
	balanced := true
	for _, face := range d.Faces() {
		line := Line{Face: face, Counted: counted[face]}
		line.Expected = in[face] - out[face] + d.Reversed[face] + d.Test[face]
		line.VarianceNotes = line.Counted - line.Expected
		line.VarianceValue = Value(face, line.VarianceNotes)
		balanced = balanced && line.VarianceNotes == 0
		result.TotalVariance = result.TotalVariance.Add(line.VarianceValue)
		result.Lines = append(result.Lines, line)
	}
	result.Verdict = verdict(balanced, result.TotalVariance)
	return result
}

func verdict(balanced bool, total decimal.Decimal) Verdict {
	switch {
	case balanced:
		return Balanced
	case total.IsNegative():
		return Short
	case total.IsPositive():
		return Over
	}
	return Mixed
}

// Total is the result where the machine prints amounts of money only, so that the
// variance exists for the whole and not per face value.
type Total struct {
	Expected  decimal.Decimal
	Counted   decimal.Decimal
	Variance  decimal.Decimal // Counted less Expected
	Verdict   Verdict         // never Mixed: lines are not known
	CreditDue decimal.Decimal
}

// ReconcileTotal is Reconcile for a machine that prints what it paid out and what
// was reversed as two amounts. The day's own Dispensed and Reversed are not used.
func ReconcileTotal(d Day, dispensed, reversed decimal.Decimal) Total {
	net := dispensed.Sub(reversed)
	handMoved := d.In().Value().Sub(Sum(d.Removed...).Value())
	total := Total{
		Expected:  handMoved.Add(d.Test.Value()).Sub(net),
		Counted:   d.Counted().Value(),
		CreditDue: net.Sub(d.Test.Value()),
	}
	total.Variance = total.Counted.Sub(total.Expected)
	total.Verdict = verdict(total.Variance.IsZero(), total.Variance)
	return total
}
