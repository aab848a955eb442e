package dialogs

import (
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// creditRule is what the shop agreed on with its bank.
func (c *talk) creditRule() bankdays.Rule {
	s := &c.f.Shop.Settings
	return bankdays.Rule{Days: s.CreditDays, CutOff: s.CreditCut, Roll: s.CreditRoll}
}

// dueOn is when the credit for printed figures of an instant is due; empty when
// the shop told no rule.
func (c *talk) dueOn(at time.Time) shop.Date {
	if c.f.Shop.CreditDays == 0 {
		return ""
	}
	return c.creditRule().Due(c.f.Shop.Currency, c.local(at))
}

// dayOfClaim is the day of trading that a claim's period belongs to.
func (c *talk) dayOfClaim(x books.Claim) shop.Date { return reminders.DayOf(c.f.Shop, x.Opened) }

// claimDay names a claim by the day on which its slip was printed.
func (c *talk) claimDay(x books.Claim) string { return c.v.Day(c.slipDay(x).Time()) }

// claimDays words the days of several settlements.
func (c *talk) claimDays(of []int64) string {
	var days []string
	for _, seq := range of {
		if x := c.m.Claim(seq); x != nil && !slices.Contains(days, c.claimDay(*x)) {
			days = append(days, c.claimDay(*x))
		}
	}
	return strings.Join(days, " + ")
}

// late reports whether a claim's due date has passed: the bank has until the
// end of it.
func (c *talk) late(x books.Claim) bool {
	return x.On != "" && shop.DateOf(c.local(c.in.At)) > x.On
}

// pastDays reads days that have been: monday, yesterday, 24 november, monday to
// wednesday. No day at all is today, and takes nothing of the text; so it is for a
// day that has not come yet.
func (c *talk) pastDays(s string) (from, to shop.Date, rest string) {
	days, rest, why := c.reader().Days(s, when.Back)
	switch {
	case why != when.OK:
		return c.today(), c.today(), rest
	case days.From > c.today():
		return c.today(), c.today(), s
	}
	return days.From, days.To, rest
}

// claimsOf finds the settlements of the days that a text names, set apart by
// and. ok is false when it names none.
func (c *talk) claimsOf(s string) (of []int64, ok bool) {
	s = strings.NewReplacer(",", " and ", "+", " and ", "&", " and ").Replace(s)
	for part := range strings.SplitSeq(s, " and ") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		from, to, rest := c.pastDays(part)
		if rest != "" {
			return nil, false
		}
		ok = true
		for _, x := range c.m.Claims {
			if d := c.slipDay(x); from <= d && d <= to && !slices.Contains(of, x.Seq) {
				of = append(of, x.Seq)
			}
		}
	}
	slices.Sort(of)
	return of, ok
}

// money reads an amount at the beginning of a text, and the rest.
func (c *talk) money(s string) (value decimal.Decimal, rest string, ok bool) {
	words := strings.Fields(s)
	for n := min(2, len(words)); n > 0; n-- {
		if value, ok = c.amount(strings.Join(words[:n], " ")); ok && value.IsPositive() {
			return value, strings.Join(words[n:], " "), true
		}
	}
	return value, s, false
}
