package trade

import (
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Sign is the ending of texts about a difference: less or more.
func Sign(d decimal.Decimal) string {
	if d.IsNegative() {
		return "less"
	}
	return "more"
}

// MaxFits bounds what is said about a payment.
const MaxFits = 2

// creditRule is what the shop agreed on with its bank.
func creditRule(c *engine.Talk) bankdays.Rule {
	s := &c.F.Shop.Settings
	return bankdays.Rule{Days: s.CreditDays, CutOff: s.CreditCut, Roll: s.CreditRoll}
}

// DueOn is when the credit for printed figures of an instant is due; empty when
// the shop told no rule.
func DueOn(c *engine.Talk, at time.Time) shop.Date {
	if c.F.Shop.CreditDays == 0 {
		return ""
	}
	return creditRule(c).Due(c.F.Shop.Currency, c.Local(at))
}

// DayOfClaim is the day of trading that a claim's period belongs to.
func DayOfClaim(c *engine.Talk, x books.Claim) shop.Date { return reminders.DayOf(c.F.Shop, x.Opened) }

// late reports whether a claim's due date has passed: the bank has until the
// end of it.
func late(c *engine.Talk, x books.Claim) bool {
	return x.On != "" && shop.DateOf(c.Local(c.In.At)) > x.On
}

// DueWord says when a claim is due, or since when it has been.
func DueWord(c *engine.Talk, x books.Claim) string {
	switch {
	case x.On == "":
		return c.V.Say("owed.no-date")
	case late(c, x):
		return c.V.Say("owed.late", "day", c.V.Day(x.On.Time()))
	}
	return c.V.Say("owed.due", "day", c.V.Day(x.On.Time()))
}

// OwedName names the deadline of a claim that is overdue.
const OwedName = "owed-"

// RemindOf plans the ladder of a claim from the morning after its due date on
// which banks pay: it ends when the claim is paid.
func RemindOf(c *engine.Talk, x books.Claim) {
	if x.On != "" && x.Left().IsPositive() {
		c.Climb(OwedName+strconv.FormatInt(x.Seq, 10), OverdueFrom(c, x), reminders.Owed)
	}
}

// QuietPaid drops the reminders of claims that are paid.
func QuietPaid(c *engine.Talk, of []int64) {
	for _, seq := range of {
		if x := c.M.Claim(seq); x != nil && !x.Left().IsPositive() {
			c.Deadline(OwedName+strconv.FormatInt(seq, 10), time.Time{})
		}
	}
}

// OverdueFrom is when a claim becomes overdue: on the next banking day after
// its due date.
func OverdueFrom(c *engine.Talk, x books.Claim) time.Time {
	return reminders.Notice(c.F.Shop, bankdays.Next(c.F.Shop.Currency, x.On.Add(1)))
}

// owesLeast reports whether the bank owes more than is known for a period at
// hand: the figures from before a restart of the counters are missing.
func owesLeast(c *engine.Talk) bool {
	for _, x := range c.M.Due() {
		if p := c.M.Period(x.Period); p != nil && p.Has(books.Unsettled) {
			return true
		}
	}
	return false
}

// Least says of an amount that it may be more.
func Least(c *engine.Talk, part bool, money string) string {
	if !part {
		return money
	}
	return c.V.Say("at-least", "money", money)
}
