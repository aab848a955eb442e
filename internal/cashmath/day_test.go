package cashmath_test

import (
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
)

type notes = cashmath.Notes

// line is a cashmath.Line with its value as text.
type line struct {
	face              cashmath.Face
	expected, counted int64
	variance          int64
	value             string
}

var reconcileCases = []struct {
	name    string
	day     cashmath.Day
	lines   []line
	total   string
	verdict cashmath.Verdict
	credit  string
}{
	{name: "nothing entered", total: "0", verdict: cashmath.Balanced, credit: "0"},
	{
		name: "one twenty missing",
		day: cashmath.Day{
			Loaded: notes{"20": 150, "10": 200}, Topups: []notes{{"20": 50}},
			Dispensed: notes{"20": 90, "10": 120}, Reversed: notes{"20": 2},
			Remaining: notes{"20": 108, "10": 80}, Rejects: notes{"20": 3},
		},
		lines: []line{{"20", 112, 111, -1, "-20"}, {"10", 80, 80, 0, "0"}},
		total: "-20", verdict: cashmath.Short, credit: "2960",
	},
	{
		name: "every field counts once",
		day: cashmath.Day{
			Loaded: notes{"20": 100}, Topups: []notes{{"20": 10}, {"20": 5}},
			Removed: []notes{{"20": 7}, {"20": 3}}, Dispensed: notes{"20": 50},
			Reversed: notes{"20": 4}, Test: notes{"20": 2}, Remaining: notes{"20": 56},
			Rejects: notes{"20": 4}, Found: notes{"20": 1},
		},
		lines: []line{{"20", 61, 61, 0, "0"}},
		total: "0", verdict: cashmath.Balanced, credit: "880",
	},
	{
		name:  "one over",
		day:   cashmath.Day{Loaded: notes{"0.5": 10}, Remaining: notes{"0.5": 11}},
		lines: []line{{"0.5", 10, 11, 1, "0.5"}},
		total: "0.5", verdict: cashmath.Over, credit: "0",
	},
	{
		name: "lines differ, values cancel",
		day: cashmath.Day{
			Loaded: notes{"20": 10, "10": 10}, Remaining: notes{"20": 9, "10": 12},
		},
		lines: []line{{"20", 10, 9, -1, "-20"}, {"10", 10, 12, 2, "20"}},
		total: "0", verdict: cashmath.Mixed, credit: "0",
	},
	{
		name: "impossible figures are answered",
		day: cashmath.Day{
			Loaded: notes{"20": 10}, Dispensed: notes{"20": 30}, Reversed: notes{"10": 5}, Remaining: notes{"5": 0},
		},
		lines: []line{{"20", -20, 0, 20, "400"}, {"10", 5, 0, -5, "-50"}, {"5", 0, 0, 0, "0"}},
		total: "350", verdict: cashmath.Over, credit: "550",
	},
}

func TestReconcile(t *testing.T) {
	for _, c := range reconcileCases {
		t.Run(c.name, func(t *testing.T) {
			got := cashmath.Reconcile(c.day)
			if got.Verdict != c.verdict || !got.TotalVariance.Equal(amount(t, c.total)) ||
				!got.CreditDue.Equal(amount(t, c.credit)) {
				t.Errorf("got %s, total %s, credit %s; want %s, %s, %s",
					got.Verdict, got.TotalVariance, got.CreditDue, c.verdict, c.total, c.credit)
			}
			if len(got.Lines) != len(c.lines) {
				t.Fatalf("lines %v, want %v", got.Lines, c.lines)
			}
			for i, want := range c.lines {
				have := got.Lines[i]
				same := have.Face == want.face && have.Expected == want.expected && have.Counted == want.counted &&
					have.VarianceNotes == want.variance && have.VarianceValue.Equal(amount(t, want.value))
				if !same {
					t.Errorf("line %d is %v, want %v", i, have, want)
				}
			}
		})
	}
}

// The same days with amounts only for what was paid out: the total must not change.
func TestReconcileTotal(t *testing.T) {
	cases := []struct {
		name                        string
		day                         cashmath.Day
		dispensed, reversed         string
		expected, counted, variance string
		verdict                     cashmath.Verdict
		credit                      string
	}{
		{"balanced", cashmath.Day{Loaded: notes{"20": 10}, Remaining: notes{"20": 6}}, "80", "0", "120", "120", "0",
			cashmath.Balanced, "80"},
		{"short", cashmath.Day{Loaded: notes{"20": 10}, Remaining: notes{"20": 6}}, "100", "40", "140", "120",
			"-20", cashmath.Short, "60"},
		{"over", cashmath.Day{Loaded: notes{"20": 10}, Rejects: notes{"20": 6}}, "100", "0", "100", "120", "20",
			cashmath.Over, "100"},
		{"top-up, removed and test", cashmath.Day{
			Loaded: notes{"20": 10}, Topups: []notes{{"10": 4}}, Removed: []notes{{"20": 2}}, Test: notes{"20": 1},
			Found: notes{"20": 6},
		}, "100", "0", "120", "120", "0", cashmath.Balanced, "80"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := cashmath.ReconcileTotal(c.day, amount(t, c.dispensed), amount(t, c.reversed))
			want := cashmath.Total{
				Expected: amount(t, c.expected), Counted: amount(t, c.counted), Variance: amount(t, c.variance),
				Verdict: c.verdict, CreditDue: amount(t, c.credit),
			}
			same := got.Expected.Equal(want.Expected) && got.Counted.Equal(want.Counted) &&
				got.Variance.Equal(want.Variance) && got.Verdict == want.Verdict && got.CreditDue.Equal(want.CreditDue)
			if !same {
				t.Errorf("got %v, want %v", got, want)
			}
		})
	}
}

func anyDay() *rapid.Generator[cashmath.Day] {
	lot := rapid.Custom(func(t *rapid.T) notes {
		lot := notes{}
		for _, face := range []cashmath.Face{"50", "20", "10", "0.5"} {
			if rapid.Bool().Draw(t, "has "+string(face)) {
				lot[face] = rapid.Int64Range(0, cashmath.MaxNotes).Draw(t, "notes")
			}
		}
		return lot
	})
	return rapid.Custom(func(t *rapid.T) cashmath.Day {
		return cashmath.Day{
			Loaded: lot.Draw(t, "loaded"), Topups: rapid.SliceOfN(lot, 0, 3).Draw(t, "topups"),
			Removed: rapid.SliceOfN(lot, 0, 3).Draw(t, "removed"), Dispensed: lot.Draw(t, "dispensed"),
			Reversed: lot.Draw(t, "reversed"), Remaining: lot.Draw(t, "remaining"),
			Rejects: lot.Draw(t, "rejects"), Found: lot.Draw(t, "found"), Test: lot.Draw(t, "test"),
		}
	})
}

// Lines add up to the total; the total is the one computed from amounts alone;
// every face appears once, falling.
func TestReconcileAgreesWithItself(t *testing.T) {
	checks.Rapid(t, 300, 20_000, 1_000_000, func(t *rapid.T) {
		day := anyDay().Draw(t, "day")
		result := cashmath.Reconcile(day)
		sum, expected, counted := decimal.Zero, decimal.Zero, decimal.Zero
		for _, line := range result.Lines {
			sum = sum.Add(line.VarianceValue)
			expected = expected.Add(cashmath.Value(line.Face, line.Expected))
			counted = counted.Add(cashmath.Value(line.Face, line.Counted))
		}
		total := cashmath.ReconcileTotal(day, day.Dispensed.Value(), day.Reversed.Value())
		if !sum.Equal(result.TotalVariance) || !sum.Equal(total.Variance) || !expected.Equal(total.Expected) ||
			!counted.Equal(total.Counted) || !result.CreditDue.Equal(total.CreditDue) {
			t.Fatalf("lines %s, result %v, total %v", sum, result, total)
		}
		falling := slices.IsSortedFunc(day.Faces(), func(a, b cashmath.Face) int { return b.Cmp(a) })
		if !falling || len(slices.Compact(day.Faces())) != len(result.Lines) {
			t.Fatalf("faces %v", day.Faces())
		}
	})
}

// Where notes lie does not matter, only how many: taking the refused notes over to
// the cassette changes no line.
func TestReconcileDoesNotCareWhereCountedNotesLie(t *testing.T) {
	checks.Rapid(t, 300, 20_000, 1_000_000, func(t *rapid.T) {
		day := anyDay().Draw(t, "day")
		moved := day
		moved.Remaining, moved.Rejects = cashmath.Sum(day.Remaining, day.Rejects), notes{}
		a, b := cashmath.Reconcile(day), cashmath.Reconcile(moved)
		if a.Verdict != b.Verdict || !a.TotalVariance.Equal(b.TotalVariance) {
			t.Fatalf("%v became %v", a, b)
		}
	})
}

// Constructed single-denomination and pair cases; the arithmetic is our own and is
// asserted here a second time, independently of the program that wrote the files.
func TestReconcileConstructedCases(t *testing.T) {
	rows := readTable(t, "variance_cases_constructed.csv")
	for _, row := range rows {
		row["remaining"] = row["counted_cassette"]
	}
	for _, row := range readTable(t, "variance_cases_constructed_pairs.csv") {
		row["remaining"], row["topups"], row["counted_reject"] = row["counted"], "0", "0"
		rows = append(rows, row)
	}
	for _, row := range rows {
		face := face(t, row["denomination"])
		result := cashmath.Reconcile(cashmath.Day{
			Loaded: notes{face: number(t, row["opening"])}, Topups: []notes{{face: number(t, row["topups"])}},
			Dispensed: notes{face: number(t, row["dispensed"])}, Remaining: notes{face: number(t, row["remaining"])},
			Rejects: notes{face: number(t, row["counted_reject"])},
		})
		if got, want := result.Lines[0].VarianceNotes, number(t, row["variance_notes"]); got != want {
			t.Errorf("%s %s: variance %d notes, want %d", row["id"], face, got, want)
		}
		if text, printed := row["expected_remaining"]; printed && result.Lines[0].Expected != number(t, text) {
			t.Errorf("%s: expected %d, want %s", row["id"], result.Lines[0].Expected, text)
		}
	}
}
