package diagnosis_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// One slip is told when it is at most one bit less believable than that the notes are
// simply gone; where it is no more believable, after saying that nothing explains it. A
// digit left out of 21 costs 2 and 1 bits, 4 for a slip at all and the choice of a
// figure; 19 notes gone cost 5 for their number and 3 for a loss at all. A balanced kind
// beside it makes more figures, and more places to lose notes.
func TestBelievable(t *testing.T) {
	plain := func(topups ...notes) diagnosis.Facts {
		f := twenties{loaded: 80, paid: 59, left: 2}.facts()
		for _, lot := range topups {
			f.Day.Topups = append(f.Day.Topups, lot)
			f.Day.Dispensed["20"] += lot["20"]
		}
		return f
	}
	ten := func(topups ...int64) diagnosis.Facts { return also(plain(), "10", 31, topups...) }
	const named = "remaining 21 as 2"
	for _, c := range []struct {
		name  string
		facts diagnosis.Facts
		want  bool
	}{
		{"three figures: 9 bits and 8", plain(), true},
		{"four figures", plain(notes{"20": 5}), true},
		{"five figures: 10 bits", plain(notes{"20": 5}, notes{"20": 7}), false},
		{"five of two kinds: 10 bits and 9", ten(), true},
		{"eight", ten(5, 7, 9), true},
		{"nine: 11 bits", ten(5, 7, 9, 11), false},
	} {
		want := []string{"1 unexplained"}
		if c.want {
			want = append(want, "1 "+named)
		}
		if got := told(diagnosis.Explain(c.facts)); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", c.name, got, want)
		}
	}
	// Nobody loses notes that are too many: there a slip is told at any price.
	over := twenties{loaded: 80, paid: 61, cancelled: 3, left: 52}.facts()
	if got := all(over); got != "1 reversed 33 as 3; 1 unexplained" {
		t.Errorf("30 too many: %q, want 33 cancelled, however unusual, or nothing", got)
	}
}

// A bundle that was missed and a digit left out look the same, and a key beside the right
// one, which stands last; other slips of a bundle's size are told apart.
func TestBundleOrDigit(t *testing.T) {
	digit := twenties{loaded: 237, paid: 100, left: 37}.facts()
	want := []string{"1 bundle-miscounted", "1 remaining 137 as 37", "2 dispensed 200 as 100"}
	if got := told(diagnosis.Explain(digit)); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got := told(diagnosis.Explain(also(digit, "10", 31))); !slices.Equal(got, want) {
		t.Errorf("beside another kind: %q, want %q", got, want)
	}
	exchanged := twenties{loaded: 122, paid: 58, left: 46}.facts()
	exchanged.Bundle = notes{"20": 9}
	want = []string{"1 remaining 64 as 46", "1 unexplained", "2 bundle-miscounted"}
	if got := told(diagnosis.Explain(exchanged)); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	for missing, want := range map[int64]bool{
		100: true, 300: true, -300: true, 400: false, -400: false, 99: false, 101: false,
	} {
		f := dayOf(notes{"20": 777}, notes{"20": missing})
		if got := event(f, diagnosis.BundleMiscounted) != ""; got != want {
			t.Errorf("%d notes missing are bundles: %t, want %t", missing, got, want)
		}
	}
}

// An event on record that only one of its kinds of note shows costs 4 bits more and the
// choice of the kind: with 4 for a slip and 2 for one of four ways to take cancelled payments
// wrongly, and one since a few cancelled notes fit many losses, that is 12, or 13 of three kinds. 64 notes
// gone, of two kinds, are worth 15 with the bit that a slip is given; 63 are worth 11.
func TestPartOfAnEvent(t *testing.T) {
	for _, c := range []struct {
		missing int64
		three   bool
		want    string
	}{
		{64, false, "20  lot 0, 107 -> 171"}, {63, false, ""}, {64, true, "20  lot 0, 107 -> 171"}, {63, true, ""},
	} {
		day := cashmath.Day{Loaded: notes{"20": 401, "10": 403}, Dispensed: notes{"20": 107, "10": 111},
			Reversed: notes{"20": c.missing, "10": 29}, Remaining: notes{"20": 294, "10": 321}}
		if c.three {
			day.Loaded["5"], day.Remaining["5"] = 407, 407-113+27
			day.Dispensed["5"], day.Reversed["5"] = 113, 27
		}
		if got := event(diagnosis.Facts{Day: day}, diagnosis.ReversalSign); got != c.want {
			t.Errorf("%d missing, three kinds %t: %q, want %q", c.missing, c.three, got, c.want)
		}
	}
}

// What says the same is told once, whichever of equal entries it is about and however the
// machine's figures show it.
func TestToldOnce(t *testing.T) {
	both := notes{"20": 57, "10": 43}
	load := notes{"20": 101, "10": 103}
	three := dayOf(load, both, both, both, both)
	noted := dayOf(load, notes{"20": -57, "10": -43})
	noted.Noted, noted.Declared = []notes{both, both}, cashmath.Sum(load, both)
	for name, facts := range map[string]diagnosis.Facts{
		"three equal top-ups": three, "noted twice and declared": noted,
	} {
		if causes := diagnosis.Explain(facts); len(causes) != 1 {
			t.Errorf("%s: %q, want one cause", name, told(causes))
		}
	}
	// One reading of an event is enough: three times the cancelled notes are no two slips.
	f := twenties{loaded: 401, paid: 107, cancelled: 70, left: 151, refused: 3}
	if got := all(f.facts()); got != "1 unexplained" {
		t.Errorf("210 missing: %q", got)
	}
}

// A top-up of any size costs 8 bits, and 6 where it is as round as the shop's other loads:
// three bits more than the load misread, which shares its rank then, and not five.
func TestRoundTopup(t *testing.T) {
	for odd, want := range map[int64][]string{
		0: {"1 loaded 640 as 460", "1 topup-unrecorded"}, 1: {"1 loaded 640 as 460", "2 topup-unrecorded"},
	} {
		f := also(also(twenties{loaded: 460, paid: 400, left: 240}.facts(), "50", 40+odd), "10", 200+odd)
		f.Declared = notes{"50": 40 + odd, "20": 640, "10": 200 + odd}
		if got := told(diagnosis.Explain(f)); !slices.Equal(got, want) {
			t.Errorf("loads %v: %q, want %q", f.Day.Loaded, got, want)
		}
	}
}

// An event on record and figures on each other's line are found together.
func TestEventAndExchange(t *testing.T) {
	f := twoKinds([2]int64{57, 43}, [2]int64{21, 12}, [2]int64{22, 105})
	f.Noted = []notes{{"10": 60}}
	if got := told(diagnosis.Explain(f)); !slices.Contains(got, "1 loaded 43 as 57, topup-unrecorded") {
		t.Errorf("%q, want the noted top-up and the loads exchanged", got)
	}
}

// A load written with a nought too many hides a top-up that is not on record: the machine was
// told of both, and the rest shows once the load is read as it should be.
func TestTopupBehindALoad(t *testing.T) {
	const want = "loaded 201 as 2010, topup-unrecorded"
	f := twenties{loaded: 2010, paid: 100, left: 158}.facts()
	f.Declared = notes{"20": 258}
	if got := all(f); !strings.Contains(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got := all(also(f, "10", 31)); !strings.Contains(got, want) {
		t.Errorf("beside another kind: %q, want %q", got, want)
	}
	f = twenties{loaded: 50, topup: 2010, paid: 100, left: 208}.facts()
	f.Declared = notes{"20": 308}
	if got := all(f); !strings.Contains(got, "topup-unrecorded, topups 201 as 2010") {
		t.Errorf("behind a top-up: %q", got)
	}
	f = twenties{loaded: 2010, paid: 100, left: 158}.facts()
	f.Declared = notes{"20": 259} // a note more than there was
	if got := all(f); strings.Contains(got, want) {
		t.Errorf("with other figures: %q", got)
	}
}

// A load in bundles, of a kind that was topped up as well: the machine was told of it all, so that one
// top-up would explain it, and that a load of five stands among hundreds is said after it.
func TestLoadInBundlesBehindATopup(t *testing.T) {
	f := twenties{loaded: 5, paid: 101, left: 589}.facts()
	f.Declared, f.Bundle = notes{"20": 690}, notes{"20": 100}
	want := []string{"1 topup-unrecorded", "2 loaded 500 as 5, topup-unrecorded"}
	if got := told(diagnosis.Explain(f)); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Notes too many of a kind of which no load is on record: it was not written down, so that no bundle
// is named alone.
func TestLoadNotWritten(t *testing.T) {
	f := also(twenties{loaded: 0, paid: 57, left: 143}.facts(), "10", 31)
	if got := told(diagnosis.Explain(f)); !slices.Contains(got, "1 unexplained") {
		t.Errorf("%q", got)
	}
}
