package counts_test

import (
	"reflect"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
	"shopfloat/internal/counts"
)

// One number alone, answered before anything else is looked at, is what the whole grammar makes of it: the
// kinds of note that are asked, numbers at the bounds, noughts in front and none, at every line, within the
// lines and outside of them, whatever else the request says. So is what only looks like one.
func TestNumberAloneIsThatOfTheGrammar(t *testing.T) {
	typed := rapid.OneOf(
		rapid.StringMatching(`[0-9]{0,14}`), rapid.StringMatching(`0{0,9}[0-9]{0,8}`),
		rapid.SampledFrom([]string{"0", "00", "1", "2", "5", "10", "20", "50", "9999999", "10000000", "0000040"}),
		rapid.StringMatching(`[-+_0-9 .]{1,7}`), rapid.SampledFrom([]string{"+40", "-0", "4_0", "0x10", "٤٠"}),
		rapid.Map(rapid.IntRange(0, counts.MaxNotes), strconv.Itoa),
	)
	checks.Rapid(t, 5000, 100_000, 5_000_000, func(t *rapid.T) {
		req := counts.Request{
			Next:        rapid.IntRange(-2, 5).Draw(t, "next"),
			Currency:    rapid.SampledFrom([]string{"", "EUR", "JPY", "BHD"}).Draw(t, "currency"),
			MinorDigits: rapid.IntRange(0, 3).Draw(t, "minor digits"),
			Values:      rapid.Bool().Draw(t, "values"),
			ZeroAll:     rapid.Bool().Draw(t, "zero for all"),
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "lines") {
			req.Lines = append(req.Lines, counts.Line{
				Face:     rapid.SampledFrom([]string{"50", "20", "20", "10", "0.5", "5000", "x", ""}).Draw(t, "face"),
				Position: rapid.SampledFrom([]int{0, i + 1}).Draw(t, "position"),
				Name:     rapid.SampledFrom([]string{"", "top", "40"}).Draw(t, "name"),
				Bundle:   rapid.SampledFrom([]int64{0, 100}).Draw(t, "bundle"),
			})
		}
		text := typed.Draw(t, "text")
		if got, want := counts.Parse(text, req), counts.ParseWhole(text, req); !reflect.DeepEqual(got, want) {
			t.Fatalf("%q is read as %s, by the whole grammar as %s", text, show(got), show(want))
		}
	})
}

// Every number of up to three digits, and of up to seven around the bounds, at every line of a shop.
func TestEveryNumberAlone(t *testing.T) {
	texts := []string{"", "9999998", "9999999", "10000000", "00000000", "0000000", "0000001", "00000001"}
	for n := range 1000 {
		s := strconv.Itoa(n)
		texts = append(texts, s, strings.Repeat("0", 7-len(s))+s)
	}
	for _, text := range texts {
		for next := -1; next <= 3; next++ {
			for _, all := range []bool{false, true} {
				req := shop()
				req.Next, req.ZeroAll = next, all
				if got, want := counts.Parse(text, req), counts.ParseWhole(text, req); !reflect.DeepEqual(got, want) {
					t.Errorf("%q at line %d is read as %s, by the whole grammar as %s", text, next, show(got), show(want))
				}
			}
		}
	}
}
