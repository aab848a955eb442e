package counts_test

import (
	"fmt"
	"testing"
	"unicode/utf8"

	"shopfloat/internal/counts"
)

func FuzzParse(f *testing.F) {
	for _, seed := range []string{
		"40 150 200", "20x150 10x200", "150 twenties, 200 tens", "1b+37", "€3000 in 20s", "1,500",
		"20s 150+100",
		"what now?", "top - 40\n- box 2: 150", "two hundreds and fifty-five", "1/2", "1) 40\n2) 150", "-5",
		"total €1.0",
	} {
		f.Add(seed, uint8(0), false)
		f.Add(seed, uint8(2), true)
	}
	f.Fuzz(func(t *testing.T, text string, shape uint8, values bool) {
		req := shop()
		req.Next = int(shape%8) - 1
		req.Values, req.ZeroAll = values, values
		req.MinorDigits = int(shape >> 6)
		if shape&8 != 0 {
			req.Lines[2].Face = "20"
		}
		if shape&16 != 0 {
			req.Lines = req.Lines[:shape>>5&1]
		}
		checkResult(t, text, req, counts.Parse(text, req))
	})
}

// checkResult asserts what holds for every text.
func checkResult(t interface {
	Helper()
	Fatalf(string, ...any)
}, text string, req counts.Request, res counts.Result) {
	t.Helper()
	if len(res.Items) == 0 && res.Total == "" && res.Problem == nil {
		t.Fatalf("%q: nothing understood and nothing wrong", text)
	}
	if res.Prose && (len(res.Items) > 0 || res.Problem == nil) {
		t.Fatalf("%q: prose with items or without a problem", text)
	}
	if p := res.Problem; p != nil && (p.Code == counts.OK || utf8.RuneCountInString(p.Near) > 20) {
		t.Fatalf("%q: problem %+v", text, p)
	}
	if message := itemsFault(req, res.Items); message != "" {
		t.Fatalf("%q: %s", text, message)
	}
}

// itemsFault names what items must never be.
func itemsFault(req counts.Request, items []counts.Item) string {
	last := -1
	for _, item := range items {
		if item.Line <= last || item.Line >= len(req.Lines) {
			return fmt.Sprintf("line %d after %d of %d", item.Line, last, len(req.Lines))
		}
		last = item.Line
		if item.Notes < 0 || item.Notes > counts.MaxNotes {
			return fmt.Sprintf("%d notes", item.Notes)
		}
		if item.FromValue != (item.Value != "") {
			return fmt.Sprintf("value %q, from value %v", item.Value, item.FromValue)
		}
	}
	return ""
}

func FuzzFold(f *testing.F) {
	for _, seed := range []string{"٠١٢", "１５０", "a\u200fb", "1️⃣", "\xff", "𝟏𝟓"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		once := counts.Fold(text)
		if twice := counts.Fold(once); twice != once {
			t.Fatalf("%q folds to %q and then to %q", text, once, twice)
		}
		if !utf8.ValidString(once) {
			t.Fatalf("%q folds to invalid %q", text, once)
		}
	})
}

func FuzzParseAmount(f *testing.F) {
	for _, seed := range []string{"7,000.00", "7.000,00", "€7000", "7 000,5 kr", "-€5", "0.005", "1,2,3"} {
		f.Add(seed, 2)
		f.Add(seed, 3)
	}
	f.Fuzz(func(t *testing.T, text string, minor int) {
		amount, code := counts.ParseAmount(text, minor)
		if (code == counts.OK) != (amount != "") {
			t.Fatalf("%q: %q with %v", text, amount, code)
		}
		if code != counts.OK {
			return
		}
		if again, code := counts.ParseAmount(amount, minor); code != counts.OK || again != amount {
			t.Fatalf("%q: %q, then %q %v", text, amount, again, code)
		}
	})
}
