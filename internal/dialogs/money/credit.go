// Package money is the room of what bank and shop owe each other: what the bank
// paid or took, what an earlier payment was for, and what is still due.
package money

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/dues"
	"shopfloat/internal/owing"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// CreditFlow records what the bank paid.
func CreditFlow() *engine.Flow {
	f := flow(engine.DoCredit, startCredit, map[string]engine.Screen{
		"amount": {Ask: askPaidAmount, Answer: answerPaidAmount, What: "what.credit"},
		"which":  whichClaim("what.credit-which"), "review": creditBooking()})
	f.Again, f.Bank = engine.BegunAgain, &engine.Banking{}
	f.Cards = []engine.Standing{{Name: engine.DoCredit, Tap: tapCredited}, {Name: engine.DoBank, Tap: tapBank},
		{Name: engine.DoOwed, Tap: tapOwed}, {Name: engine.DoSplit, Tap: tapSplit}}
	return f
}

// flow is what the dialogs about money between shop and bank have in common.
func flow(name string, start func(*engine.Talk), screens map[string]engine.Screen) *engine.Flow {
	return &engine.Flow{
		Name: name, Title: name, Version: 1, Start: start, Screens: screens,
		Draft: func() any { return &draft{} }, Of: engine.ThatMoment,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: engine.LosesChoices,
		Stopped: engine.NothingBooked,
		Rights:  engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: name, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}}}
}

// draft is what is kept of money between shop and bank until it is booked.
type draft struct {
	dues.Line
	Asked    bool         `json:"asked,omitempty"`    // what it is for was asked: nothing is taken for granted
	About    shop.Date    `json:"about,omitzero"`     // the day a customer's claim is about
	Lot      int64        `json:"lot,omitempty"`      // the earlier payment that is matched
	Off      bool         `json:"off,omitempty"`      // it is given up
	Payments []int64      `json:"payments,omitempty"` // that can be meant by a reference
	Why      books.Reason `json:"why,omitempty"`      // it is
	Words    string       `json:"words,omitempty"`
}

func drafted(c *engine.Talk) *draft {
	d := engine.Drafted[draft](c)
	c.OwingOf(d.Of)
	c.Payable(d.Net())
	return d
}

// bankTook reports whether the dialog under way is about money the bank took.
func bankTook(c *engine.Talk) bool {
	f := c.Flow()
	return f != nil && f.Bank != nil && f.Bank.Took
}

// startCredit takes what was typed at once: 1240 for monday.
func startCredit(c *engine.Talk) {
	if elsewhere(c) {
		return
	}
	c.GoTo("amount")
	if c.Rest != "" && !answerPaidAmount(c, c.Rest) {
		c.First(c.V.Say("not-amount", "near", c.Rest))
	}
}

func askPaidAmount(c *engine.Talk) *engine.Card {
	return &engine.Card{Body: []chat.Block{chat.Lines(c.V.Say("ask." + c.State.Flow))}}
}

// answerPaidAmount takes an amount and, perhaps, the days it is for.
func answerPaidAmount(c *engine.Talk, s string) bool {
	value, rest, ok := owing.MoneyFirst(c.Teller, s)
	if !ok {
		return false
	}
	drafted(c).Amount = value
	c.GoTo("which")
	rest = takeBeside(c, rest)
	if c.IsWord("today", rest) {
		if of, _ := owing.ClaimsNamed(c.Teller, rest); len(of) == 0 {
			rest = "" // it came today, and is for another day
		}
	}
	if rest != "" && (!answerWhichClaim(c, rest) || !paid(c).Equal(value)) {
		drafted(c).Amount, drafted(c).Asked = value, true // some day was meant
		c.First(telling.NoDay(c.Teller, rest, "credit.no-day"))
	}
	return true
}

// paid is the amount in the draft.
func paid(c *engine.Talk) decimal.Decimal { return drafted(c).Amount }

// of are the settlements in the draft, oldest first.
func of(c *engine.Talk) []int64 { return drafted(c).Of }

// recordCredit writes the payment as what it was said to be.
func recordCredit(gap dues.Means) func(*engine.Talk) {
	return func(c *engine.Talk) {
		d := drafted(c)
		r := books.Record{Kind: books.Credit, Ref: d.Ref, Parts: d.Paid(c.M, gap),
			Amounts: []books.Amount{{Field: books.Credited, Value: d.Amount}}}
		if lot := lot(c); lot != nil {
			r.Kind, r.Amounts = books.Matched, nil
			r.Parts = append(r.Parts, books.Part{As: lot.As, Of: lot.Seq, Value: d.Amount.Neg()})
		}
		var err error
		if back := dues.AfterAll(c.M, r.Parts); back != nil {
			_, err = c.Record(books.Record{Kind: books.WriteOff, Reason: books.CameAfter, Parts: back})
		}
		if err == nil {
			_, err = c.Record(r)
		}
		if err != nil {
			c.Refuse(err)
			return
		}
		trade.QuietPaid(c, d.Of)
		loose := ""
		if len(c.M.Loose) > 0 { // money is there that is for nothing known
			loose = c.V.Say("credit.loose")
		}
		c.Close(chat.Lines(c.V.Say("credit.recorded", "when", c.Clock(c.When())), stillDue(c), loose))
	}
}

// stillDue says what the bank has yet to pay for the settlements in the draft.
func stillDue(c *engine.Talk) string { return owing.StillDue(c.Teller, &drafted(c).Line) }

// bankMessage drafts what to write to the bank about the payment in the draft.
func bankMessage(c *engine.Talk) {
	c.Edit = ""
	c.Send(chat.Reply{Body: owing.AboutPayment(c.Teller, &drafted(c).Line)})
}
