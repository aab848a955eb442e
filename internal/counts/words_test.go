package counts_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

var (
	small = strings.Fields("zero one two three four five six seven eight nine ten eleven twelve " +
		"thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
	tens = strings.Fields("- - twenty thirty forty fifty sixty seventy eighty ninety")
)

// inWords writes a number from 1 to 99,999 as English does.
func inWords(n int, and string) string {
	switch {
	case n < 20:
		return small[n]
	case n < 100 && n%10 == 0:
		return tens[n/10]
	case n < 100:
		return tens[n/10] + "-" + small[n%10]
	case n < 1000 && n%100 == 0:
		return small[n/100] + " hundred"
	case n < 1000:
		return small[n/100] + " hundred" + and + inWords(n%100, and)
	case n%1000 == 0:
		return inWords(n/1000, and) + " thousand"
	case n%1000 < 100:
		return inWords(n/1000, and) + " thousand" + and + inWords(n%1000, and)
	}
	return inWords(n/1000, and) + " thousand " + inWords(n%1000, and)
}

// Every number of notes that a box may hold is read in words, with and without "and" and hyphens.
func TestEveryNumberInWords(t *testing.T) {
	req := requestOf("7")
	for n := 1; n < 10_000; n++ {
		british, short := inWords(n, " and "), strings.ReplaceAll(inWords(n, " "), "-", " ")
		for _, text := range []string{british, short, strings.ToUpper(british)} {
			res := counts.Parse(text, req)
			if res.Problem != nil || len(res.Items) != 1 || res.Items[0].Notes != int64(n) {
				t.Fatalf("%d: %q is read as %s", n, text, show(res))
			}
		}
	}
	for _, n := range []int{10_000, 20_020, 45_045, 99_999} {
		if got, want := show(counts.Parse(inWords(n, " and "), req)), fmt.Sprintf("0=%d", n); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}

// What each word of count language does, one sentence for all words that do the same.
func TestEveryWord(t *testing.T) {
	for _, c := range []struct{ sentence, words, want string }{
		{"2 %s", "b bdl bundle bundles pack packs packet packets strap straps", "0=200"},
		{"%s of twenties", "bundle pack packet strap", "1=100"},
		{"150 %s", "note notes bill bills banknote banknotes pc pcs piece pieces", "0=150"},
		{"20s %s 150", "loose single singles the is are has have got there i we it put counted", "1=150"},
		{"20s %s 150", "left remaining inside only just exactly ok grand paid out dispensed", "1=150"},
		{"20s %s 150", "printed says shows please thanks with at", "1=150"},
		{"%s 150", "loose single singles the is are has have got there i we it put counted left", "0=150"},
		{"%s empty", "all everything both", "0=0 1=0 2=0"},
		{"150 %s 20", "of in x times", "1=150"},
		{"150 %s 100", "plus", "0=250"},
		{"150 %s 100", "minus", "negative"},
		{"1b %s 37", "and plus", "0=137"},
		{"%s", "none no zero empty nothing nil", "0=0"},
		{"%s 7000", "total sum", "total 7000 total only"},
		{"%s a bundle", "half", "fraction"},
		{"%s 2: 150", "box boxes cassette number nr", "1=150"},
		{"%s 150", "second 2nd middle twenties twentys", "1=150"},
		{"%s 150", "first 1st top fifties fiftys", "0=150"},
		{"%s 150", "third 3rd bottom tens tenner tenners", "2=150"},
		{"%s 150", "fourth fifth sixth 4th 9th", "unreadable prose"},
		{"%s 150", "ones twos fives fiver fivers hundreds thousands", "unknown face"},
		{"3000 %s in 20s", "€ eur euro euros", "1=150(3000)"},
		{"3000 %s in 20s", "£ gbp pound pounds quid $ usd dollar dollars bucks cad aud chf fr franc francs",
			"other currency"},
		{"3000 %s in 20s", "¥ jpy yen ₹ inr rupee rupees kr sek nok dkk zł pln", "other currency"},
		{"3000 %s in 20s", "₪ ₩ ฿", "1=150(3000)"}, // money, nobody knows whose
		{"fourty %s", "loose", "0=40"},
	} {
		for _, word := range strings.Fields(c.words) {
			for _, word := range []string{word, strings.ToUpper(word)} {
				text := fmt.Sprintf(c.sentence, word)
				if got := show(counts.Parse(text, shop())); got != c.want {
					t.Errorf("%q is read as %q, want %q", text, got, c.want)
				}
			}
		}
	}
}

// Whose money a sign or word may be.
func TestCurrencies(t *testing.T) {
	for code, words := range map[string]string{
		"USD": "$ dollars usd bucks", "CAD": "$ cad dollar", "GBP": "£ pounds quid gbp", "EGP": "£ pounds",
		"CHF": "fr francs chf", "XOF": "francs", "JPY": "¥ yen jpy", "CNY": "¥", "INR": "₹ rupees inr",
		"PKR": "rupees", "SEK": "kr sek", "ISK": "kr", "PLN": "zł pln", "XYZ": "xyz", "": "€ $ zł",
	} {
		req := counts.Request{Currency: code, Lines: []counts.Line{{Face: "5"}, {Face: "20"}}}
		for _, word := range strings.Fields(words) {
			for _, text := range []string{"3000 " + word + " in 20s", word + " 3000 in 20s"} {
				if got := show(counts.Parse(text, req)); got != "1=150(3000)" {
					t.Errorf("%s: %q is read as %q", code, text, got)
				}
			}
		}
	}
	for code, word := range map[string]string{"EUR": "$", "USD": "£", "GBP": "€", "JPY": "kr", "SEK": "zł"} {
		req := counts.Request{Currency: code, Lines: []counts.Line{{Face: "20"}}}
		if got := show(counts.Parse(word+" 3000 in 20s", req)); got != "other currency" {
			t.Errorf("%s: %s is read as %q", code, word, got)
		}
	}
}
