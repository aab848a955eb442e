package search

import (
	"slices"
	"strconv"
	"strings"
)

// Marks for a payout that was not what was asked for. A customer who got more
// was paid wrong notes; one who got less has a claim.
const (
	gotMore = "@got-more"
	gotLess = "@got-less"
)

// askedGot compares the sum asked for with the sum that came, when a text
// names both, as in "wanted 20 and got 50". It returns "" when it does not.
func askedGot(text string) string {
	const unsaid = 0
	asked, got := unsaid, unsaid
	saidGot := true // "40 instead of 20": what came is named first
	for _, w := range strings.FieldsFunc(plain.Replace(strings.ToLower(text)), notWordRune) {
		switch n := sum(w); {
		case slices.Contains(askWords, w):
			saidGot = false
		case slices.Contains(gotWords, w):
			saidGot = true
		case n == unsaid:
		case saidGot && got == unsaid:
			got = n
		case asked == unsaid:
			asked = n
		}
	}
	switch {
	case asked == unsaid || got == unsaid || asked == got:
		return ""
	case got > asked:
		return gotMore
	}
	return gotLess
}

var (
	askWords = []string{
		"asked", "ask", "asks", "wanted", "want", "wants", "requested", "request", "pressed", "typed", "keyed",
		"instead", "of", "for", "entered", "chose", "selected", "withdrew", "withdraw", "than", "needed",
		"punched", "withdrawing", "supposed", "should",
	}
	gotWords = []string{
		"got", "gets", "get", "gave", "gives", "give", "received", "receive", "receives", "came", "comes", "come",
		"paid", "pays", "dispensed", "dispenses", "dispense", "out", "only", "just", "obtained", "spat",
	}
	sums = []string{
		"five", "ten", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety", "hundred",
	}
	sumValues = []int{5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100}
)

// sum reads a sum of money, 0 when the word is none. Plurals as in "tens
// instead of twenties" name notes, not a sum.
func sum(w string) int {
	if i := slices.Index(sums, w); i >= 0 {
		return sumValues[i]
	}
	n, err := strconv.Atoi(w)
	if err != nil || n < 5 || n > 10_000 {
		return 0
	}
	return n
}
