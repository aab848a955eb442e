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
	"shopfloat/internal/texts"
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
	}
	word := t.V.Say(texts.Either(Late(t, x), "owed.late", "owed.due"), "day", t.V.Day(x.On.Time()))
	if from, ok := countedFrom(t, x); ok {
		return t.V.Say("owed.printed", "day", t.V.Day(from.Time()), "due", word)
	}
	return word
}

// countedFrom is the day from which the days until a claim is due are counted, where it is not
// the one that the claim is called by: a slip printed in the night after a day is of that day,
// and the bank counts from the date on it.
func countedFrom(t *Teller, x books.Claim) (shop.Date, bool) {
	day, printed := SlipDay(t, x), t.Local(x.Settled)
	from, rule, money := shop.DateOf(printed), creditRule(t), t.F.Shop.Currency
	return from, from == day.Add(1) && printed.Hour() < nightEnds && x.On != rule.After(money, day) &&
		x.On == rule.After(money, from)
}

// nightEnds is the hour by which nobody closes the day before any more.
const nightEnds = 6

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
	t.OwingOf([]int64{no})
	x := t.M.Claim(no)
	if x == nil || !x.Left().IsPositive() || x.On == "" {
		return time.Time{}, false
	}
	return OverdueFrom(t, *x), true
}

// LongBegan is when it became so late that owners are told at once.
func LongBegan(t *Teller, no int64) (time.Time, bool) {
	if _, open := OwedBegan(t, no); !open {
		return time.Time{}, false
	}
	return reminders.LongOverdue(t.F.Shop, t.M.Claim(no).On), true
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
