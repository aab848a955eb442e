package hedged_test

import (
	"testing"

	"shopfloat/internal/counts"
	"shopfloat/internal/hedged"
)

func TestGuess(t *testing.T) {
	req := counts.Request{Currency: "EUR", MinorDigits: 2, Lines: []counts.Line{
		{Face: "50", Position: 1}, {Face: "20", Position: 2}, {Face: "10", Position: 3}}}
	for text, want := range map[string]string{
		"about 150 and 200": "150 and 200", "hundred and fifty by two hundred": "hundred and fifty, two hundred",
		"maybe 40, 150": "40, 150", "i think 50s 40 and 20s 150": "50s 40 and 20s 150",
		"roughly 40": "40", "it is close to 150 i think": "150",
		"maybe 40 then 150 then 200": "40 then 150 then 200",
		"i have 2 boxes":             "", "10 minutes please": "", "no wait": "", "about": "", "about 40?": "",
		"customer got about 40 and 50": "", "say 40": "", "about 40 of the twenties are torn": "",
		"between 20 x 10 and 10 x 20": "",
	} {
		typed, items := hedged.Guess(text, req)
		if typed != want || (typed == "") != (len(items) == 0) {
			t.Errorf("%q: %q, %v, want %q", text, typed, items, want)
		}
	}
}
