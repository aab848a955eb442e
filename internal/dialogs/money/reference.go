package money

import (
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/owing"
	"shopfloat/internal/telling"
)

// ReferenceFlow notes by what the bank calls a payment that is on record.
func ReferenceFlow() *engine.Flow {
	return flow(engine.DoBankRef, startReference, map[string]engine.Screen{
		"which": ask.Pick{Head: ask.Asking("ask.bank-reference-which"), Options: referOptions, None: noneReferred,
			What: "what.bank-reference"}.Screen(),
		"review": ask.Booking{Read: readReference, Book: bookReference, Other: ask.Changes(engine.GoBack("which")),
			What: "what.bank-reference"}.Screen()})
}

// startReference takes the reference and, perhaps, the days of the payment: AB12 for tuesday.
func startReference(c *engine.Talk) {
	d := drafted(c)
	d.Ref, d.Payments, _ = owing.Referred(c.Teller, c.Rest, c.In.Text)
	if c.GoTo("which"); len(d.Payments) == 1 {
		d.Lot = d.Payments[0]
		c.GoTo("review")
	}
}

func noneReferred(c *engine.Talk) { c.Close(chat.Lines(c.V.Say("bank-reference.none"))) }

func referOptions(c *engine.Talk) (list []ask.Option) {
	of := drafted(c).Payments
	for _, seq := range of[max(len(of)-maxClaims, 0):] {
		if e, ok := books.AsCorrected(trade.Ledger(c, seq), seq); ok {
			list = append(list, ask.Option{Label: owing.PaymentName(c.Teller, e), Value: strconv.FormatInt(seq, 10),
				Take: func(c *engine.Talk) { drafted(c).Lot = seq; c.GoTo("review") }})
		}
	}
	return list
}

func readReference(c *engine.Talk) []chat.Block {
	d := drafted(c)
	e, ok := books.AsCorrected(trade.Ledger(c, d.Lot), d.Lot)
	if !ok { // it was taken back meanwhile
		c.GoTo("which")
		return nil
	}
	return []chat.Block{chat.Lines(telling.EntryLine(c.Teller, e), owing.RefLine(c.Teller, &d.Line))}
}

func bookReference(c *engine.Talk) {
	d := drafted(c)
	e, _ := books.AsCorrected(trade.Ledger(c, d.Lot), d.Lot)
	if err := trade.Correct(c, owing.WithReference(e, d.Ref)); err != nil {
		c.Refuse(err)
		return
	}
	c.Close(chat.Lines(c.V.Say("bank-reference.done", "when", c.Clock(c.When()))))
}
