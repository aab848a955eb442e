package money

import (
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dues"
	"shopfloat/internal/telling"
)

// creditBooking reads a payment back. One that differs from what is due is
// booked as what it is said to mean.
func creditBooking() engine.Screen {
	means := ask.Pick{Head: askMeaning, Options: meanings}
	return ask.Booking{
		First: means.Card, Tap: means.Tap, Answer: answerWhichClaim,
		Read: readCredit, Book: recordCredit("confirm"),
		Other: ask.Instead{Label: "change", Value: "which", Take: anotherClaim}, What: "what.credit-review",
	}.Screen()
}

// differsBy is what a payment is more than what is due; false where that does not matter.
func differsBy(c *engine.Talk) (decimal.Decimal, bool) {
	diff := gap(c)
	return diff, drafted(c).Whole == "" && !diff.IsZero()
}

// readCredit reads back a payment that fits, or that is for no settlement at all.
func readCredit(c *engine.Talk) []chat.Block {
	if whole := drafted(c).Whole; whole != "" {
		return []chat.Block{chat.Lines(c.V.Say("credit.whole-"+string(whole), "money", c.V.Money(paid(c))))}
	}
	return []chat.Block{chat.Columns(1, besideDue(c)), chat.Lines(c.V.Say("credit.fits"))}
}

// besideDue lines up what came and what was due.
func besideDue(c *engine.Talk) [][]string {
	rows := [][]string{{c.V.Say("credit.came"), c.V.Money(paid(c))},
		{c.V.Say("credit.due", "day", telling.ClaimDays(c.Teller, of(c))), c.V.Money(left(c, of(c)))}}
	for _, x := range []struct {
		id    string
		value decimal.Decimal
	}{{"credit.charged", drafted(c).Charged}, {"credit.own-fee", drafted(c).Fee}} {
		if !x.value.IsZero() {
			rows = append(rows, []string{c.V.Say(x.id), c.V.Money(x.value)})
		}
	}
	return rows
}

// askMeaning reads back a payment that does not fit, says what would, and asks
// what it means.
func askMeaning(c *engine.Talk) *engine.Card {
	diff, ok := differsBy(c)
	if !ok {
		return nil
	}
	named := c.V.Say("credit.gap-"+telling.Sign(diff), "money", c.V.Money(diff.Abs()), "day",
		telling.ClaimDays(c.Teller, of(c)))
	return &engine.Card{Body: []chat.Block{chat.Columns(1, besideDue(c)),
		chat.Lines(append([]string{named}, append(fitLines(c), c.V.Say("credit.what"))...)...)}}
}

// anotherClaim asks anew what a payment is for.
func anotherClaim(c *engine.Talk) {
	d := drafted(c)
	d.Of, d.Whole, d.Asked, c.State.Draft.Page = nil, "", true, 0
	c.GoTo("which")
}

// meanings are what a payment can mean that differs from what is due.
func meanings(c *engine.Talk) (list []ask.Option) {
	diff, ok := differsBy(c)
	if !ok {
		return nil
	}
	for i, f := range fits(c) {
		if !slices.Equal(f.Of, of(c)) {
			list = append(list, ask.Option{Label: c.V.Say("button.fit", "day", telling.ClaimDays(c.Teller, f.Of)),
				Value: "fit-" + strconv.Itoa(i), Take: func(c *engine.Talk) { drafted(c).Of = f.Of }})
		}
	}
	means := func(label, as string) {
		list = append(list, ask.Option{Value: as, Label: telling.GapLabel(c.Teller, label, of(c), diff.Abs()),
			Take: ask.UnlessOvertaken(recordCredit(as))})
	}
	if diff.IsNegative() {
		means("charged", "charge")
		means("part", "part")
	} else {
		list = append(list, splits(c)...)
		means("fee", "fee")
		means("extra", "extra")
		means("rest-unknown", "unknown")
	}
	return append(list, ask.Option{Label: c.V.Say("button.message"), Value: "message", Take: bankMessage},
		ask.Option{Label: c.V.Say("button.another-day"), Value: "which", Take: anotherClaim})
}

func fits(c *engine.Talk) []dues.Fit {
	of := of(c)
	if len(of) == 0 {
		return nil
	}
	d := drafted(c)
	fits := dues.FitsFor(c.M, of[0], d.Amount.Add(d.Charged).Sub(d.Fee), c.Digits())
	return fits[:min(len(fits), telling.MaxFits)]
}

// fitLines say what the payment, or the difference, is exactly.
func fitLines(c *engine.Talk) []string {
	var lines []string
	for _, f := range fits(c) {
		if f.Why != dues.FitsDue {
			lines = append(lines, c.V.Say("fit."+string(f.Why), "day", telling.ClaimDays(c.Teller, f.Of), "money",
				c.V.Money(f.Value.Abs())))
		}
	}
	if len(lines) == 0 && len(of(c)) == 1 {
		lines = []string{c.V.Say("fit.nothing")}
	}
	return lines
}
