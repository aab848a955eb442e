package telling_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/telling"
)

func loaded() []books.BoxState {
	return []books.BoxState{{Position: 1, Face: "50", Loaded: 40}, {Position: 2, Face: "20", Loaded: 150},
		{Position: 3, Face: "10", Loaded: 200}}
}

// A printed total that differs by a slip in itself, or by two boxes typed the
// other way round. 40 x 50 + 150 x 20 + 200 x 10 = 7,000 of 390 notes.
func TestTotalSlip(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	p := &books.Period{No: 1, Boxes: loaded()}
	for printed, want := range map[string]string{
		"390":   "That is the number of notes. I need the money on the slip.",
		"70000": "It looks like a zero too many or too few.", "700": "It looks like a zero too many or too few.",
		"10300": "Were the numbers of 50s and 20s typed the other way round?", // 150 x 50 + 40 x 20 + 2,000
		"7500":  "Were the numbers of 20s and 10s typed the other way round?", // 2,000 + 200 x 20 + 150 x 10
		"7010":  "", "7000": "",
	} {
		got := telling.TotalSlip(c.Teller, p, decimal.RequireFromString(printed), decimal.NewFromInt(7000))
		if len(got) > 1 || len(got) == 1 && got[0] != want || len(got) == 0 && want != "" {
			t.Errorf("%s: %q", printed, got)
		}
	}
}

// Boxes that hold alike, typed the other way round, are no slip.
func TestTotalSlipOfNothing(t *testing.T) {
	alike := loaded()[:2]
	alike[0].Loaded = 150
	c := floor.Talk(t, "2026-11-26 09:00")
	ours := decimal.NewFromInt(150*50 + 150*20)
	if got := telling.TotalSlip(c.Teller, &books.Period{No: 1, Boxes: alike}, ours, ours); got != nil {
		t.Errorf("%q", got)
	}
}

// Words before what a slip says are dropped; what is no such sentence stays as it is.
func TestSlipSays(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for typed, want := range map[string]string{
		"the slip says 6500": "6500", "It says €4,400": "€4,400", "slip shows 28 90 120": "28 90 120",
		"the total is 7000": "7000", "6500": "6500", "it says": "it says", "it says: 40": "40",
		"the slip saysnt 5": "the slip saysnt 5",
	} {
		if got := telling.SlipSays(c.Teller, typed); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}

// What the slip says, or what was paid out, is known to be the slip's; what the machine shows is not.
func TestPaidSays(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for typed, want := range map[string]string{
		"The slip says 28 90": "28 90", "the receipt says 28 and 90": "28 and 90",
		"it printed 28 90": "28 90",
		"paid out 28 90":   "28 90", "28 90 were paid out": "28 90",
		"machine says 90 40": "", "it says 90 40": "", "28 90": "", "the slip says nothing": "",
		"the paper is out": "",
	} {
		got, ok := telling.PaidSays(c.Teller, typed)
		if ok != (want != "") || ok && got != want {
			t.Errorf("%q: %q %v, want %q", typed, got, ok, want)
		}
	}
}
