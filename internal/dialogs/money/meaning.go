package money

import (
	"slices"
	"strconv"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dues"
	"shopfloat/internal/owing"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// creditBooking reads a payment back. One that differs from what is due is booked as what it is said to mean.
func creditBooking() engine.Screen {
	means := ask.Pick{Head: askMeaning, Options: meanings}
	return ask.Booking{
		First: means.Card, Tap: means.Tap, Answer: answerWhichClaim,
		Read: readCredit, Book: recordCredit(""),
		Other: ask.Instead{Label: "change", Value: "which", Take: anotherClaim}, What: "what.credit-review",
	}.Screen()
}

// readCredit reads back a payment that fits, or that is for no settlement at all.
func readCredit(c *engine.Talk) []chat.Block {
	ref := owing.RefLine(c.Teller, &drafted(c).Line)
	if whole := drafted(c).Whole; whole != "" {
		return []chat.Block{chat.Lines(c.V.Say("credit.whole-"+string(whole), "money", c.V.Money(paid(c))), ref)}
	}
	return []chat.Block{owing.Payment(c.Teller, &drafted(c).Line), chat.Lines(c.V.Say("credit.fits"), ref)}
}

// askMeaning reads back a payment that does not fit, says what would, and asks what it means.
func askMeaning(c *engine.Talk) *engine.Card {
	if drafted(c).Gap(c.M).IsZero() {
		return nil
	}
	return &engine.Card{Body: owing.Gap(c.Teller, &drafted(c).Line)}
}

// anotherClaim asks anew what a payment is for.
func anotherClaim(c *engine.Talk) {
	d := drafted(c)
	d.Of, d.Whole, d.Asked, c.State.Draft.Page = nil, "", true, 0
	c.GoTo("which")
}

// meanings are what a payment can mean that differs from what is due.
func meanings(c *engine.Talk) (list []ask.Option) {
	diff := drafted(c).Gap(c.M)
	if diff.IsZero() {
		return nil
	}
	for i, f := range drafted(c).Fits(c.M, c.Digits(), telling.MaxFits) {
		if !slices.Equal(f.Of, of(c)) {
			list = append(list, ask.Option{Label: c.V.Say("button.fit", "day", telling.ClaimDays(c.Teller, f.Of)),
				Value: "fit-" + strconv.Itoa(i), Take: func(c *engine.Talk) { drafted(c).Of = f.Of }})
		}
	}
	means := func(label, value string, as dues.Means) {
		list = append(list, ask.Option{Value: value, Label: owing.GapLabel(c.Teller, label, of(c), diff.Abs()),
			Take: ask.UnlessOvertaken(recordCredit(as))})
	}
	if diff.IsNegative() {
		means("charged", "charge", dues.IsCharge)
		means(texts.Either(drafted(c).Left(c.M).IsPositive(), "part", "part-given-up"), "part", "")
	} else {
		list = append(list, splits(c)...)
		means("fee", "fee", dues.IsFee)
		means("extra", "extra", dues.IsExtra)
		means("rest-unknown", "unknown", "")
	}
	return append(list, ask.Option{Label: c.V.Say("button.message"), Value: "message", Take: bankMessage},
		ask.Option{Label: c.V.Say("button.another-day"), Value: "which", Take: anotherClaim})
}
