package diagnosis_test

import (
	"fmt"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// event writes all that the best slip of a kind says: its lines, its entry and its
// figures, "20 10 lot 2, 50 -> 30". Empty when no cause is that slip alone.
func event(facts diagnosis.Facts, id diagnosis.ID) string {
	figure := func(n *int64) string {
		if n == nil {
			return "?"
		}
		return fmt.Sprint(*n)
	}
	for _, c := range diagnosis.Explain(facts) {
		if s := c.Slips[0]; len(c.Slips) == 1 && s.ID == id {
			return fmt.Sprintf("%s %s lot %d, %s -> %s", s.Face, s.OtherFace, s.Lot, figure(s.Typed), figure(s.Likely))
		}
	}
	return ""
}

// dayOf is a day on which nothing was paid out: in less what is missing was counted.
func dayOf(loaded, missing notes, topups ...notes) diagnosis.Facts {
	left := cashmath.Sum(append([]notes{loaded}, topups...)...)
	for face, n := range missing {
		left[face] -= n
	}
	return diagnosis.Facts{Day: cashmath.Day{Loaded: loaded, Topups: topups, Remaining: left}}
}

// A top-up entered twice is one of two equal entries, the later one; of entries that
// have a kind in common that kind's; and no more than fifty entries are compared.
func TestTopupTwice(t *testing.T) {
	load := notes{"20": 101, "10": 103}
	many := func(n int) diagnosis.Facts { // the n-th is the first once more
		var topups []notes
		for i := range n - 1 {
			topups = append(topups, notes{"20": int64(11 + i)})
		}
		return dayOf(load, notes{"20": 11}, append(topups, notes{"20": 11})...)
	}
	both := notes{"20": 57, "10": 43}
	for _, c := range []struct {
		name  string
		facts diagnosis.Facts
		want  string
	}{
		{"two equal of three", dayOf(load, notes{"20": 57}, notes{"20": 57}, notes{"20": 31}, notes{"20": 57}),
			"20  lot 2, 57 -> ?"},
		{"two kinds", dayOf(load, both, both, both), "20 10 lot 1, ? -> ?"},
		{"of two kinds one", dayOf(load, notes{"10": 43}, both, both), "10  lot 1, 43 -> ?"},
		{"a kind in common", dayOf(load, notes{"20": 57}, both, notes{"20": 57, "10": 44}), "20  lot 1, 57 -> ?"},
		{"nothing of the other kind",
			dayOf(load, notes{"20": 57}, notes{"20": 57, "10": 0}, notes{"20": 57, "10": 0}), "20  lot 1, 57 -> ?"},
		{"none equal", dayOf(load, notes{"20": 57}, notes{"20": 57}, notes{"20": 58}), ""},
		{"another amount is missing", dayOf(load, notes{"20": 56}, notes{"20": 57}, notes{"20": 57}), ""},
		{"the fiftieth", many(50), "20  lot 49, 11 -> ?"},
		{"the fifty-first", many(51), ""},
	} {
		if got := event(c.facts, diagnosis.TopupTwice); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A top-up that is not on record shows where it was noted, or in what the machine was
// told; what was taken out again it may have been told of as well, or not.
func TestTopupUnrecorded(t *testing.T) {
	load := notes{"20": 101, "10": 103}
	noted := func(missing notes, list ...notes) diagnosis.Facts {
		f := dayOf(load, missing, notes{"10": 9})
		f.Noted = list
		return f
	}
	declared := func(missing, told notes, removed ...notes) diagnosis.Facts {
		f := dayOf(load, missing)
		f.Declared, f.Day.Removed = told, removed
		for _, lot := range removed {
			for face, n := range lot {
				f.Day.Remaining[face] -= n
			}
		}
		return f
	}
	for _, c := range []struct {
		name  string
		facts diagnosis.Facts
		want  string
	}{
		{"noted", noted(notes{"20": -57}, notes{"20": 57}), "20  lot 1, ? -> 57"},
		{"the second note", noted(notes{"20": -57}, notes{"20": 31}, notes{"20": 57}), "20  lot 1, ? -> 57"},
		{"of a note one kind", noted(notes{"20": -57}, notes{"20": 57, "10": 43}), "20  lot 1, ? -> 57"},
		{"of a note both", noted(notes{"20": -57, "10": -43}, notes{"20": 57, "10": 43}), "20 10 lot 1, ? -> ?"},
		{"declared", declared(notes{"20": -57}, notes{"20": 158}), "20  lot 0, ? -> 57"},
		{"declared, other kinds less", declared(notes{"20": -57}, notes{"20": 158, "10": 90}),
			"20  lot 0, ? -> 57"},
		{"declared of both", declared(notes{"20": -57, "10": -43}, notes{"20": 158, "10": 146}),
			"20 10 lot 0, ? -> ?"},
		{"declared before something was taken out",
			declared(notes{"20": -57}, notes{"20": 158}, notes{"20": 13}), "20  lot 0, ? -> 57"},
		{"declared after something was taken out",
			declared(notes{"20": -57}, notes{"20": 145}, notes{"20": 13}), "20  lot 0, ? -> 57"},
		{"declared less", declared(notes{"20": 57}, notes{"20": 44}), ""},
		{"declared as it is", declared(notes{"20": -57}, notes{"20": 101}), ""},
		{"nothing of that kind declared", declared(notes{"20": -57}, notes{"10": 160}), ""},
	} {
		if got := event(c.facts, diagnosis.TopupUnrecorded); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// Refused notes entered as none, by the machine's own count or by what was cancelled;
// or counted a second time with those in the box.
func TestRejects(t *testing.T) {
	missed := func(missing, machine, cancelled notes) diagnosis.Facts {
		f := dayOf(notes{"20": 101, "10": 103}, missing)
		f.MachineRejected = machine
		f.Day.Dispensed, f.Day.Reversed = cancelled, cancelled // what was cancelled lies in the box
		return f
	}
	twice := func(over notes) diagnosis.Facts {
		f := dayOf(notes{"20": 101, "10": 103}, notes{"20": 4 - over["20"], "10": 2 - over["10"]})
		f.Day.Rejects = notes{"20": 4, "10": 2}
		return f
	}
	for _, c := range []struct {
		id    diagnosis.ID
		facts diagnosis.Facts
		want  string
	}{
		{diagnosis.RejectsMissed, missed(notes{"20": 4}, notes{"20": 4}, nil), "20  lot 0, 0 -> 4"},
		{diagnosis.RejectsMissed, missed(notes{"20": 4, "10": 2}, notes{"20": 4, "10": 2}, nil),
			"20 10 lot 0, 0 -> ?"},
		{diagnosis.RejectsMissed, missed(notes{"20": 4}, nil, notes{"20": 4}), "20  lot 0, 0 -> 4"},
		{diagnosis.RejectsMissed, missed(notes{"20": 4}, notes{"20": 5}, notes{"20": 4}), "20  lot 0, 0 -> 4"},
		{diagnosis.RejectsMissed, missed(notes{"20": 4}, notes{"20": 5}, notes{"20": 3}), ""},
		{diagnosis.RejectsMissed, missed(notes{"20": -4}, notes{"20": 4}, nil), ""},
		{diagnosis.RejectsCountedTwice, twice(notes{"20": 4, "10": 2}), "20 10 lot 0, ? -> ?"},
		{diagnosis.RejectsCountedTwice, twice(notes{"20": 4}), ""}, // a box is counted as a whole
		{diagnosis.RejectsCountedTwice, twice(notes{"20": -4, "10": -2}), ""},
	} {
		if got := event(c.facts, c.id); got != c.want {
			t.Errorf("%s of %v: %q, want %q", c.id, c.facts.Day, got, c.want)
		}
	}
}

// Cancelled payments taken off twice or the wrong way: the difference is their number or
// twice that. Only the paid-out figure can be put right then.
func TestReversalSign(t *testing.T) {
	day := func(missing int64) diagnosis.Facts {
		f := dayOf(notes{"20": 201}, notes{"20": 100 + missing})
		f.Day.Dispensed, f.Day.Reversed = notes{"20": 107}, notes{"20": 7}
		return f
	}
	for missing, want := range map[int64]string{
		7: "20  lot 0, 107 -> 114", -7: "20  lot 0, 107 -> 100", 14: "20  lot 0, 7 -> ?", -14: "20  lot 0, 7 -> ?",
		8: "", 21: "",
	} {
		if got := event(day(missing), diagnosis.ReversalSign); got != want {
			t.Errorf("%d missing: %q, want %q", missing, got, want)
		}
	}
	all := dayOf(notes{"20": 201}, notes{"20": -7}) // all that was paid out was cancelled
	all.Day.Dispensed, all.Day.Reversed = notes{"20": 7}, notes{"20": 7}
	if got := event(all, diagnosis.ReversalSign); got != "20  lot 0, 7 -> 0" {
		t.Errorf("all cancelled: %q", got)
	}
}

// The period before: its difference comes back the other way round, or its notes stayed
// in, those of the box for refused notes with them.
func TestFromBefore(t *testing.T) {
	after := func(missing notes, loaded, left, refused notes) diagnosis.Facts {
		f := dayOf(notes{"20": 101, "10": 103}, missing)
		f.Previous = &cashmath.Day{Loaded: loaded, Remaining: left, Rejects: refused}
		return f
	}
	before := notes{"20": 37, "10": 29}
	for _, c := range []struct {
		id    diagnosis.ID
		facts diagnosis.Facts
		want  string
	}{
		{diagnosis.CarriedOver, after(notes{"20": -6}, before, notes{"20": 31, "10": 29}, nil),
			"20  lot 0, ? -> ?"},
		{diagnosis.CarriedOver, after(notes{"20": 6}, before, notes{"20": 43, "10": 29}, nil),
			"20  lot 0, ? -> ?"},
		{diagnosis.CarriedOver, after(notes{"20": 6}, before, notes{"20": 31, "10": 29}, nil), ""},
		{diagnosis.LeftInOvernight, after(notes{"20": -37}, before, before, nil), "20  lot 0, 101 -> 138"},
		{diagnosis.LeftInOvernight, after(notes{"20": -37, "10": -29}, before, before, nil), "20 10 lot 0, ? -> ?"},
		{diagnosis.LeftInOvernight, after(notes{"20": -41, "10": -29}, notes{"20": 41, "10": 29}, before,
			notes{"20": 4}), "20 10 lot 0, ? -> ?"},
		{diagnosis.LeftInOvernight, after(notes{"20": -41}, notes{"20": 41}, notes{"20": 37}, notes{"20": 4}),
			"20  lot 0, 101 -> 142"},
		{diagnosis.LeftInOvernight, after(notes{"20": 37}, before, before, nil), ""},
	} {
		if got := event(c.facts, c.id); got != c.want {
			t.Errorf("%s after %v: %q, want %q", c.id, c.facts.Previous, got, c.want)
		}
	}
}

// Notes of a test are missing or left over as a whole.
func TestTestNotes(t *testing.T) {
	for missing, want := range map[int64]string{1: "20 10 lot 0, ? -> ?", -1: "20 10 lot 0, ? -> ?", 2: ""} {
		f := dayOf(notes{"20": 101, "10": 103}, notes{"20": missing, "10": missing})
		f.Day.Dispensed, f.Day.Test = notes{"20": 1, "10": 1}, notes{"20": 1, "10": 1}
		if got := event(f, diagnosis.TestNotes); got != want {
			t.Errorf("%d missing: %q, want %q", missing, got, want)
		}
	}
}

// After a jam so many notes may lie on the way as the machine pays out at once, each
// time; more are not there, and none are too many.
func TestTransport(t *testing.T) {
	for _, c := range []struct {
		jams, at, missing int64
		want              bool
	}{
		{1, 20, 20, true}, {1, 20, 21, false}, {2, 20, 40, true}, {2, 20, 41, false}, {0, 20, 5, false},
		{1, 0, 5, false}, {1, 20, -5, false}, {1, 20, 17, true},
	} {
		f := dayOf(notes{"20": 501}, notes{"20": c.missing})
		f.Jams, f.LargestDispense = c.jams, c.at
		if got := event(f, diagnosis.NoteInTransport) != ""; got != c.want {
			t.Errorf("%d jams of %d notes, %d missing: %t, want %t", c.jams, c.at, c.missing, got, c.want)
		}
	}
	mixed := dayOf(notes{"20": 501, "10": 503}, notes{"20": 4, "10": -4})
	mixed.Jams, mixed.LargestDispense = 1, 20
	if got := event(mixed, diagnosis.NoteInTransport); got != "" {
		t.Errorf("with notes too many of another kind: %q", got)
	}
}
