package money

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// claimDay names a claim by the day on which its slip was printed.
func claimDay(c *engine.Talk, x books.Claim) string { return c.V.Day(slipDay(c, x).Time()) }

// claimDays words the days of several settlements.
func claimDays(c *engine.Talk, of []int64) string {
	var days []string
	for _, seq := range of {
		if x := c.M.Claim(seq); x != nil && !slices.Contains(days, claimDay(c, *x)) {
			days = append(days, claimDay(c, *x))
		}
	}
	return strings.Join(days, " + ")
}

// claimsOf finds the settlements of the days that a text names, set apart by
// and. ok is false when it names none.
func claimsOf(c *engine.Talk, s string) (of []int64, ok bool) {
	s = strings.NewReplacer(",", " and ", "+", " and ", "&", " and ").Replace(s)
	for part := range strings.SplitSeq(s, " and ") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		from, to, rest := trade.PastDays(c, part)
		if rest != "" {
			return nil, false
		}
		ok = true
		for _, x := range c.M.Claims {
			if d := slipDay(c, x); from <= d && d <= to && !slices.Contains(of, x.Seq) {
				of = append(of, x.Seq)
			}
		}
	}
	slices.Sort(of)
	return of, ok
}

// money reads an amount at the beginning of a text, and the rest.
func money(c *engine.Talk, s string) (value decimal.Decimal, rest string, ok bool) {
	words := strings.Fields(s)
	for n := min(2, len(words)); n > 0; n-- {
		if value, ok = ask.Amount(c, strings.Join(words[:n], " ")); ok && value.IsPositive() {
			return value, strings.Join(words[n:], " "), true
		}
	}
	return value, s, false
}
