package diagnosis_test

import (
	"strings"
	"testing"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

type day = cashmath.Day

// worked is a day of three kinds: 40, 150 and 200 put in, 28, 89 and 120 paid out, so
// that 12, 61 and 80 are left.
func worked(change func(d *day)) diagnosis.Facts {
	d := cashmath.Day{
		Loaded: notes{"50": 40, "20": 150, "10": 200}, Dispensed: notes{"50": 28, "20": 89, "10": 120},
		Remaining: notes{"50": 12, "20": 61, "10": 80}, Rejects: notes{}, Reversed: notes{},
	}
	change(&d)
	return diagnosis.Facts{Currency: "EUR", Day: d}
}

// Slips in which a whole field went wrong, worked by hand, with what looks like them
// and is none.
func TestMisentered(t *testing.T) {
	before := cashmath.Day{Dispensed: notes{"50": 11, "20": 102, "10": 77}}
	other := worked(func(d *day) { d.Dispensed = notes{"50": 11, "20": 102, "10": 77} })
	nearly := worked(func(d *day) { d.Dispensed = notes{"50": 11, "20": 102, "10": 78} })
	other.Previous, nearly.Previous = &before, &before
	for _, c := range []struct {
		name  string
		facts diagnosis.Facts
		id    diagnosis.ID
		want  string // beginning of the answer; empty: not told
	}{
		{"middle box not counted", worked(func(d *day) { d.Remaining["20"] = 0 }), diagnosis.BoxForgotten,
			"1 remaining 61 as 0"},
		{"one note found in it", worked(func(d *day) { d.Remaining["20"] = 1 }), diagnosis.BoxForgotten, ""},
		{"no box counted", worked(func(d *day) { d.Remaining = notes{} }), diagnosis.BoxForgotten, ""},
		{"ran empty, two missing", worked(func(d *day) {
			d.Dispensed["20"], d.Remaining["20"] = 148, 0
		}), diagnosis.BoxForgotten, ""},
		{"the slip of the day before", other, diagnosis.OtherDay, "1 other-day"},
		{"nearly that slip", nearly, diagnosis.OtherDay, ""},
		{"all notes on a line", worked(func(d *day) { d.Remaining["20"] = 12 + 61 + 80 }), diagnosis.SumOnLine,
			"1 remaining 61 as 153"},
		{"all money on a line", worked(func(d *day) { d.Remaining["20"] = 2620 }), diagnosis.SumOnLine,
			"1 remaining 61 as 2620"},
		{"the sum and nothing else", worked(func(d *day) { d.Remaining = notes{"20": 153} }), diagnosis.SumOnLine,
			"1 remaining 61 as 153"},
		{"one more than the sum", worked(func(d *day) { d.Remaining["20"] = 154 }), diagnosis.SumOnLine, ""},
		{"two bundles put in as 2", worked(func(d *day) { d.Loaded["10"] = 2 }), diagnosis.TypedInBundles,
			"1 loaded 200 as 2"},
		{"every load in bundles", worked(func(d *day) {
			d.Loaded = notes{"50": 1, "20": 2, "10": 3}
			d.Remaining = notes{"50": 72, "20": 111, "10": 180}
		}), diagnosis.TypedInBundles, "1 loaded 100 as 1"},
		{"3 for 200", worked(func(d *day) { d.Loaded["10"] = 3 }), diagnosis.TypedInBundles, ""},
	} {
		got := all(c.facts)
		is := event(c.facts, c.id) != ""
		if is != (c.want != "") || is && !strings.HasPrefix(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// A key beside the right one is a hint at the end of the list, never the first. Beside
// 8 lie 5, 7, 9 and 0; of two digits only one may be wrong.
func TestKeyBeside(t *testing.T) {
	figures := map[int64]bool{88: false, 83: false, 70: true, 90: true, 60: false, 58: false, 20: false}
	for typed, want := range figures {
		facts := worked(func(d *day) { d.Remaining["10"] = typed })
		causes := diagnosis.Explain(facts)
		last := causes[len(causes)-1]
		if got := last.Slips[0].ID == diagnosis.KeyBeside && *last.Slips[0].Likely == 80; got != want {
			t.Errorf("80 as %d: %q, want a key beside %t", typed, all(facts), want)
		}
		for i, c := range causes {
			if c.Slips[0].ID == diagnosis.KeyBeside && (c.Rank == 1 || i < len(causes)-1) {
				t.Errorf("80 as %d: %q names a key before the end", typed, all(facts))
			}
		}
	}
}
