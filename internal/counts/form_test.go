package counts_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

// quantityForm is a way to type how many notes of a face of 10 and bundles of 100.
type quantityForm struct {
	text  string
	notes int64
	money bool
}

var quantityForms = []quantityForm{
	{"150", 150, false}, {"0", 0, false}, {"none", 0, false}, {"1,500", 1500, false}, {"1.500", 1500, false},
	{"1'500", 1500, false}, {"1\u00a0500", 1500, false}, {"1,00,000", 100_000, false},
	{"forty-five", 45, false},
	{"two hundred and five", 205, false}, {"150+100", 250, false}, {"1+2+3", 6, false}, {"1b", 100, false},
	{"1b+37", 137, false}, {"2 bundles 40", 240, false}, {"2 bundles and 40 loose", 240, false},
	{"3 packs + 1", 301, false}, {"a bundle", 100, false}, {"٤٠", 40, false}, {"１５０", 150, false},
	{"150 notes", 150, false}, {"€3000", 300, true}, {"3000 euro", 300, true},
	{"EUR 3,000.00", 300, true}, {"€3.000,00", 300, true},
}

// Keys of the last line of shop: 10s in the bottom box.
var (
	keysBefore = []string{
		"10s ", "10s: ", "10s = ", "10s - ", "10s-", "10x", "10 x ", "10 × ", "10*", "10: ", "10:",
		"10 = ", "€10: ",
		"10€: ", "€10 x ", "tens ", "tens: ", "tenners, ", "bottom ", "bottom: ", "BOTTOM - ", "bot ",
		"bottom 10s ",
		"10s bottom: ", "box 3 ", "box 3: ", "#3 ", "3: ", "third ", "3rd: ", "in the bottom ", "€10 notes: ",
		"10s of ", "10's ",
	}
	keysBehind = []string{
		" tens", " 10s", " x 10", " × 10", " of 10", " of €10", " notes of 10", " x €10", " tenners",
		" bottom",
		" in bottom", " in the bottom box", " = tens", " 10s bottom", " in box 3", " in third",
	}
)

// makesWord recognizes a key that runs into letters behind it: 10xnone.
func makesWord(key, text string) bool {
	return strings.HasSuffix(key, "x") && strings.ContainsAny(text[:1], "abcdefghijklmnopqrstuvwxyzE")
}

// Every way to name a line goes with every way to type a quantity.
func TestEveryKeyWithEveryQuantity(t *testing.T) {
	check := func(text string, q quantityForm) {
		want := fmt.Sprintf("2=%d", q.notes)
		if q.money {
			want += "(3000)"
		}
		if got := show(counts.Parse(text, shop())); got != want {
			t.Errorf("%q is read as %q, want %q", text, got, want)
		}
	}
	for _, q := range quantityForms {
		for _, key := range keysBefore {
			if !makesWord(key, q.text) {
				check(key+q.text, q)
			}
		}
		for _, key := range keysBehind {
			if key == " x 10" || key == " × 10" {
				if q.money {
					continue // an amount times a number is none of both
				}
			}
			check(q.text+key, q)
		}
	}
}

// Two counts with keys say the same in either order and whatever parts them.
func TestEntriesInAnyOrder(t *testing.T) {
	separators := []string{", ", "; ", "\n"}
	for _, other := range []string{"20s 7", "middle: 7", "box 2 7", "20x7", "2: 7"} {
		for _, q := range quantityForms {
			for i, key := range keysBefore {
				if makesWord(key, q.text) {
					continue
				}
				sep := separators[i%len(separators)]
				for _, text := range []string{key + q.text + sep + other, other + sep + key + q.text} {
					items := counts.Parse(text, shop()).Items
					want := counts.Item{Line: 2, Notes: q.notes}
					if q.money {
						want.FromValue, want.Value = true, "3000"
					}
					if len(items) != 2 || items[0].Notes != 7 || items[1] != want {
						t.Errorf("%q is read as %+v", text, items)
					}
				}
			}
		}
	}
}

// What says nothing changes nothing: case, direction marks, brackets, blanks, other digits.
func TestWhatSaysNothing(t *testing.T) {
	changes := map[string]func(string) string{
		"capitals":    strings.ToUpper,
		"blanks":      func(s string) string { return "  \t" + strings.ReplaceAll(s, " ", "  ") + " " },
		"brackets":    func(s string) string { return "(" + s + ")" },
		"quotes":      func(s string) string { return "“" + s + "”" },
		"a picture":   func(s string) string { return s + " 👍" },
		"right marks": func(s string) string { return strings.Join(strings.Split(s, ""), "\u200f") },
		"full width":  func(s string) string { return inScript(s, '０') },
		"Devanagari":  func(s string) string { return inScript(s, '०') },
		"line end":    func(s string) string { return "\r\n" + s },
		"exclamation": func(s string) string { return s + "!" },
		"folded":      counts.Fold,
	}
	for _, r := range table(t) {
		want := show(counts.Parse(r.typed, r.req))
		for name, change := range changes {
			if r.production == "thousands" && name == "blanks" {
				continue // thousands are grouped by one blank
			}
			if got := show(counts.Parse(change(r.typed), r.req)); got != want {
				t.Errorf("%q with %s is read as %q, not %q", r.typed, name, got, want)
			}
		}
	}
}

func TestSaysNothing(t *testing.T) {
	for text, want := range map[string]bool{"": true, "now please": true, "time": true, "at this time": false,
		"abc": false, "twenties": false, "12": false, "time 12": false, "none": false, "ten": false} {
		if counts.SaysNothing(text) != want {
			t.Errorf("%q: %t", text, !want)
		}
	}
}
