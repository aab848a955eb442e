package diagnosis_test

import (
	"slices"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// twoKinds is a day of twenties and tens, in that order, on which what is left is given.
func twoKinds(loaded, paid, left [2]int64, topups ...notes) diagnosis.Facts {
	both := func(n [2]int64) notes {
		lot := notes{}
		for i, face := range []cashmath.Face{"20", "10"} {
			if n[i] != 0 {
				lot[face] = n[i]
			}
		}
		return lot
	}
	return diagnosis.Facts{Day: cashmath.Day{
		Loaded: both(loaded), Dispensed: both(paid), Remaining: both(left), Topups: topups}}
}

// Figures on each other's line: exchanged, also between two top-ups; one of them moved
// whole; or added to another's. An exchange needs one field, two lines and two figures.
func TestFiguresOnTheWrongLine(t *testing.T) {
	exchanged := func(f diagnosis.Field) diagnosis.Slip {
		return diagnosis.Slip{ID: diagnosis.LinesExchanged, Field: f}
	}
	wrong := func(f diagnosis.Field) diagnosis.Slip { return diagnosis.Slip{ID: diagnosis.WrongLine, Field: f} }
	topups := []notes{{"20": 57}, {"10": 43}}
	for _, c := range []struct {
		name  string
		facts diagnosis.Facts
		want  []diagnosis.Slip // all of the first rank
	}{
		{"57 and 43 loaded the other way round", twoKinds([2]int64{57, 43}, [2]int64{21, 12}, [2]int64{22, 45}),
			[]diagnosis.Slip{exchanged(diagnosis.Loaded)}},
		{"57 and 43 left the other way round", twoKinds([2]int64{101, 111}, [2]int64{58, 54}, [2]int64{57, 43}),
			[]diagnosis.Slip{exchanged(diagnosis.Remaining)}},
		{"two top-ups the other way round",
			twoKinds([2]int64{101, 111}, [2]int64{58, 61}, [2]int64{86, 107}, topups...),
			[]diagnosis.Slip{exchanged(diagnosis.Topups)}},
		{"tens loaded as twenties", twoKinds([2]int64{101, 0}, [2]int64{0, 0}, [2]int64{0, 101}),
			[]diagnosis.Slip{wrong(diagnosis.Loaded), wrong(diagnosis.Remaining)}},
		{"tens topped up as twenties",
			twoKinds([2]int64{101, 111}, [2]int64{58, 61}, [2]int64{43, 107}, notes{"20": 57}),
			[]diagnosis.Slip{wrong(diagnosis.Topups)}},
		{"tens paid out among the twenties", twoKinds([2]int64{101, 111}, [2]int64{73, 0}, [2]int64{60, 79}),
			[]diagnosis.Slip{wrong(diagnosis.Dispensed)}},
		{"not as much of the one as of the other", twoKinds([2]int64{57, 43}, [2]int64{21, 12}, [2]int64{22, 44}),
			[]diagnosis.Slip{{ID: diagnosis.Unexplained}}},
	} {
		var got []diagnosis.Slip
		for _, cause := range diagnosis.Explain(c.facts) {
			if cause.Rank == 1 {
				got = append(got, diagnosis.Slip{ID: cause.Slips[0].ID, Field: cause.Slips[0].Field})
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Of a figure with another kind's added to it the difference tells how much is its own: 41
// twenties and 32 tens were paid out.
func TestMergedFigure(t *testing.T) {
	f := twoKinds([2]int64{101, 111}, [2]int64{73, 0}, [2]int64{60, 79})
	if got := told(diagnosis.Explain(f)); !slices.Equal(got, []string{"1 dispensed 41 as 73"}) {
		t.Errorf("%q, want 41 of 73", got)
	}
}

// Two note boxes in each other's place: each kind differs by what was paid out of the one
// more than of the other, cancelled payments counted or not.
func TestCassettesExchanged(t *testing.T) {
	for _, c := range []struct {
		over, missing int64 // of twenties and of tens
		cancelled     int64 // of twenties
		want          bool
	}{
		{14, 14, 0, true}, {14, 14, 5, true}, {9, 9, 5, true},
		{9, 9, 0, false}, {14, 13, 0, false}, {-14, -14, 0, false},
	} {
		f := twoKinds([2]int64{301, 303}, [2]int64{57, 43}, [2]int64{244 + c.cancelled + c.over, 260 - c.missing})
		if c.cancelled > 0 {
			f.Day.Reversed = notes{"20": c.cancelled}
		}
		if got := event(f, diagnosis.CassettesExchanged); (got == "20 10 lot 0, ? -> ?") != c.want {
			t.Errorf("%d over, %d missing, %d cancelled: %q, want %t", c.over, c.missing, c.cancelled, got, c.want)
		}
	}
}

// Two paid-out figures on each other's line leave the very same figures behind: one rank, and
// the boxes first, because customers were paid wrongly.
func TestCassettesOrFigures(t *testing.T) {
	f := twoKinds([2]int64{301, 303}, [2]int64{57, 43}, [2]int64{258, 246})
	want := []string{"1 cassettes-exchanged", "1 dispensed 43 as 57"}
	if got := told(diagnosis.Explain(f)); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Two slips are told when they are no less believable than a loss. Digits exchanged cost 4
// and the choice of a figure, one bit more of three digits; 64 to 127 notes gone cost 7 for
// their number, 3 for so many and 3 for a loss at all: 13.
func TestTwoSlipsAgainstALoss(t *testing.T) {
	for _, c := range []struct {
		name string
		f    twenties
		want string
	}{
		{"7 bits and 6 of four figures", twenties{loaded: 640, paid: 520, left: 18, refused: 3},
			"1 loaded 604 as 640, remaining 81 as 18"},
		{"8 and 7 of five", twenties{loaded: 640, paid: 525, left: 18, refused: 3, topup: 5}, "1 unexplained"},
		{"7 and 7 of four", twenties{loaded: 640, paid: 408, left: 139, refused: 3}, "1 unexplained"},
	} {
		if got := all(c.f.facts()); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What is asked for says where to look, and where nothing fits it says what the bare
// difference allows: one kind for another, or digits exchanged.
func TestWhatToLookAt(t *testing.T) {
	const again = "Let a second person count again without knowing these figures"
	for _, c := range []struct {
		name  string
		facts diagnosis.Facts
		want  string
	}{
		{"27 missing", dayOf(notes{"20": 777}, notes{"20": 27}),
			again + ", and read every figure once more for two digits exchanged."},
		{"26 missing", dayOf(notes{"20": 777}, notes{"20": 26}), again + "."},
		{"27 missing of each", dayOf(notes{"20": 777, "10": 888}, notes{"20": 27, "10": 27}), again + "."},
		{"as many of the one as of the other", twoKinds([2]int64{777, 888}, [2]int64{300, 411}, [2]int64{451, 503}),
			again + ", and look for notes of 20 among those of 10, and the other way round."},
		{"exchanged", twoKinds([2]int64{57, 43}, [2]int64{21, 12}, [2]int64{22, 45}),
			"Look at the figures put in at the opening of 20 and 10: does each stand on the other's line?"},
		{"wrong line", twoKinds([2]int64{101, 111}, [2]int64{58, 61}, [2]int64{43, 107}, notes{"20": 57}),
			"Look at the figure topped up, 57 of 20: does it belong to 10?"},
		{"money", twenties{loaded: 800, paid: 34, left: 6}.facts(),
			"Look at the figure put in at the opening, 800 of 20: is it money, which would be 40 notes?"},
		{"digits", twenties{loaded: 240, paid: 189, left: 15}.facts(),
			"Read the figure left in the box of 20 again: 15 was entered, 51 would fit."},
		{"boxes", twoKinds([2]int64{301, 303}, [2]int64{57, 43}, [2]int64{258, 246}),
			"Stop paying out and call the provider: the note boxes of 20 and 10 may stand in each other's place, " +
				"and then customers were paid wrongly."},
		{"a bundle", dayOf(notes{"20": 777}, notes{"20": 100}),
			"Look for a bundle of 100 notes of 20 that was missed or counted twice."},
	} {
		if got := diagnosis.Explain(c.facts)[0].Slips[0].Check; got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
