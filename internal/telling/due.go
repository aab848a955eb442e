package telling

import (
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/books"
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
func creditRule(t *Teller) bankdays.Rule {
	s := &t.F.Shop.Settings
	return bankdays.Rule{Days: s.CreditDays, CutOff: s.CreditCut, Roll: s.CreditRoll}
}

// DueOn is when the credit for printed figures of an instant is due; empty when
// the shop told no rule.
func DueOn(t *Teller, at time.Time) shop.Date {
	if t.F.Shop.CreditDays == 0 {
		return ""
	}
	return creditRule(t).Due(t.F.Shop.Currency, t.Local(at))
}

// Late reports whether a claim's due date has passed: the bank has until the
// end of it.
func Late(t *Teller, x books.Claim) bool {
	return x.On != "" && shop.DateOf(t.Local(t.Now)) > x.On
}

// DueWord says when a claim is due, or since when it has been.
func DueWord(t *Teller, x books.Claim) string {
	switch {
	case x.On == "":
		return t.V.Say("owed.no-date")
	case Late(t, x):
		return t.V.Say("owed.late", "day", t.V.Day(x.On.Time()))
	}
	return t.V.Say("owed.due", "day", t.V.Day(x.On.Time()))
}

// OverdueFrom is when a claim that is overdue is spoken of.
func OverdueFrom(t *Teller, x books.Claim) time.Time { return reminders.Overdue(t.F.Shop, x.On) }

// LongOverdue reports whether a claim is so late that owners are told at once.
func LongOverdue(t *Teller, x books.Claim) bool {
	return x.On != "" && x.Left().IsPositive() && !t.Now.Before(reminders.LongOverdue(t.F.Shop, x.On))
}

// owesLeast reports whether the bank owes more than is known for a period at
// hand: the figures from before a restart of the counters are missing.
func owesLeast(t *Teller) bool {
	for _, x := range t.M.Due() {
		if p := t.M.Period(x.Period); p != nil && p.Has(books.Unsettled) {
			return true
		}
	}
	return false
}

// Least says of an amount that it may be more.
func Least(t *Teller, part bool, money string) string {
	if !part {
		return money
	}
	return t.V.Say("at-least", "money", money)
}

// Owes is what the bank owes by printed figures.
func Owes(t *Teller, r books.Record) string {
	return Least(t, r.Has(books.Unsettled), t.V.Money(r.Due))
}

// OwedBegan is when a claim became overdue; false: nothing of it is left, or it is due on no day.
func OwedBegan(t *Teller, no int64) (time.Time, bool) {
	t.Owing()
	x := t.M.Claim(no)
	if x == nil || !x.Left().IsPositive() || x.On == "" {
		return time.Time{}, false
	}
	return OverdueFrom(t, *x), true
}

// WhoHas are those a rung tells: at first whoever the matter is with.
func WhoHas(
	t *Teller, by shop.PersonID, date shop.Date, task reminders.Task, r reminders.Rung,
) []shop.PersonID {
	if _, works := t.F.Shop.Person(by); works && r.To == shop.List {
		return []shop.PersonID{by}
	}
	return reminders.People(t.F.Shop, date, task, r.To)
}

// ClaimDay names a claim by the day on which its slip was printed.
func ClaimDay(t *Teller, x books.Claim) string { return t.V.Day(SlipDay(t, x).Time()) }

// ClaimDays words the days of several settlements.
func ClaimDays(t *Teller, of []int64) string {
	var days []string
	for _, x := range t.M.ClaimsOf(of) {
		if day := ClaimDay(t, x); !slices.Contains(days, day) {
			days = append(days, day)
		}
	}
	return strings.Join(days, " + ")
}

// SlipDay is the day of trading on which a claim's slip was printed, as it was recorded.
func SlipDay(t *Teller, x books.Claim) shop.Date {
	if x.Day != "" {
		return x.Day
	}
	return reminders.Today(t.F.Shop, x.Settled)
}
