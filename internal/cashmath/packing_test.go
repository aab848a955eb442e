package cashmath_test

import (
	"slices"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
)

// US straps: American Bankers Association standard, en.wikipedia.org/wiki/Currency_strap.
func TestUSStraps(t *testing.T) {
	usual := 0
	for _, row := range readTable(t, "straps_us.csv") {
		face, packed := face(t, row["denomination"]), number(t, row["notes"])
		if got := cashmath.Value(face, packed); !got.Equal(amount(t, row["value"])) {
			t.Errorf("a strap of %d x %s is worth %s, want %s", packed, face, got, row["value"])
		}
		back, exact := cashmath.NotesFor(amount(t, row["value"]), face)
		if !exact || back != packed {
			t.Errorf("%s in %s is %d notes, %v; want %d", row["value"], face, back, exact, packed)
		}
		if cashmath.NotesPerBundle(row["currency"], face) == packed {
			usual++
		}
	}
	// Each of the seven kinds has a strap of 100; ones have four other sizes beside it.
	if usual != 7 {
		t.Errorf("%d rows hold the usual number of notes, want 7", usual)
	}
}

// Paying-in bundles of the United Kingdom and the euro area: common practice, no source.
func TestBundlesByConvention(t *testing.T) {
	for _, row := range readTable(t, "bundles_uk_euro.csv") {
		face := face(t, row["denomination"])
		packed := cashmath.NotesPerBundle(row["currency"], face)
		if packed != number(t, row["notes_per_bundle"]) {
			t.Errorf("%s %s: %d notes, want %s", row["currency"], face, packed, row["notes_per_bundle"])
		}
		if got := cashmath.Value(face, packed); !got.Equal(amount(t, row["bundle_value"])) {
			t.Errorf("%s %s: bundle worth %s, want %s", row["currency"], face, got, row["bundle_value"])
		}
	}
}

func TestBundles(t *testing.T) {
	checks.Rapid(t, 1000, 50_000, 5_000_000, func(t *rapid.T) {
		notes := rapid.Int64Range(0, cashmath.MaxNotes).Draw(t, "notes")
		per := rapid.Int64Range(1, 1000).Draw(t, "per bundle")
		bundles, loose := cashmath.Bundles(notes, per)
		if bundles*per+loose != notes || loose < 0 || loose >= per {
			t.Fatalf("%d in bundles of %d: %d and %d", notes, per, bundles, loose)
		}
	})
}

// New US notes, 0.0043 inch each (US Treasury figures); heights printed to a thousandth.
func TestStackHeightOfUSNotes(t *testing.T) {
	thickness := cashmath.Banknotes("USD")[0].ThicknessMM
	one := decimal.NewFromInt(1)
	for _, row := range readTable(t, "stack_height_usd.csv") {
		got := cashmath.StackHeightMM(number(t, row["notes"]), thickness, one)
		if !got.Round(3).Equal(amount(t, row["height_mm"])) {
			t.Errorf("%s notes stand %s mm high, want %s", row["notes"], got, row["height_mm"])
		}
	}
	// The same Treasury page: "a stack one mile high holds over 14.5 million notes".
	mile := amount(t, "1609344")
	if got := cashmath.StackHeightMM(14_500_000, thickness, one); !got.LessThan(mile) {
		t.Errorf("14.5 million notes stand %s mm high, over a mile", got)
	}
	if got := cashmath.StackHeightMM(14_734_884, thickness, one); !got.GreaterThan(mile) {
		t.Errorf("14,734,884 notes stand %s mm high, want just over a mile", got)
	}
	// 0.0043 inch x 25.4 mm.
	if want := amount(t, "0.0043").Mul(amount(t, "25.4")); !thickness.Equal(want) {
		t.Errorf("one note is %s mm thick, want %s", thickness, want)
	}
}

func TestStackHeightGrowsWithBulk(t *testing.T) {
	got := cashmath.StackHeightMM(1000, amount(t, "0.10"), amount(t, "1.5"))
	if !got.Equal(amount(t, "150")) {
		t.Errorf("1,000 worn notes stand %s mm high, want 150", got)
	}
}

// Every note and its published measures, source by row in the file.
func TestBanknotesAgainstTable(t *testing.T) {
	rows := readTable(t, "banknotes.csv")
	listed := map[string]int{}
	for _, row := range rows {
		notes := cashmath.Banknotes(row["currency"])
		if listed[row["currency"]] >= len(notes) {
			t.Fatalf("%s %s is not in the table", row["currency"], row["denomination"])
		}
		note := notes[listed[row["currency"]]]
		listed[row["currency"]]++
		thickness := decimal.Zero
		if row["thickness_mm"] != "" {
			thickness = amount(t, row["thickness_mm"])
		}
		same := note.Face == face(t, row["denomination"]) && note.LengthMM.Equal(amount(t, row["length_mm"])) &&
			note.HeightMM.Equal(amount(t, row["height_mm"])) && note.ThicknessMM.Equal(thickness)
		if !same {
			t.Errorf("%s: %v, want %v", row["currency"], note, row)
		}
	}
	for currency, count := range listed {
		if len(cashmath.Banknotes(currency)) != count {
			t.Errorf("%s lists %d notes, want %d", currency, len(cashmath.Banknotes(currency)), count)
		}
	}
}

func TestDenominations(t *testing.T) {
	cases := map[string][]cashmath.Face{
		"EUR": {"5", "10", "20", "50", "100", "200", "500"},
		"GBP": {"5", "10", "20", "50"},
		"USD": {"1", "2", "5", "10", "20", "50", "100"},
		"JPY": nil,
	}
	for currency, want := range cases {
		if got := cashmath.Denominations(currency); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", currency, got, want)
		}
	}
}
