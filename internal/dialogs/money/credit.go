// Package money is the room of what bank and shop owe each other: what the bank
// paid or took, what an earlier payment was for, and what is still due.
package money

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/dues"
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
		Draft: func() any { return &draft{} }, Of: engine.ThatMoment, Owing: true,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: engine.LosesChoices,
		Stopped: engine.NothingBooked,
		Rights:  engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: name, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}}}
}

// draft is what is kept of money between shop and bank until it is booked.
type draft struct {
	Amount decimal.Decimal `json:"amount,omitzero"`
	Of     []int64         `json:"of,omitempty"`    // the settlements it is for, oldest first
	Asked  bool            `json:"asked,omitempty"` // what it is for was asked: nothing is taken for granted
	Whole  books.Share     `json:"whole,omitempty"` // what it is if it is for no settlement
	About  shop.Date       `json:"about,omitzero"`  // the day a customer's claim is about
	Lot    int64           `json:"lot,omitempty"`   // the earlier payment that is matched

	Charged decimal.Decimal `json:"charged,omitzero"` // taken off in the same line
	Fee     decimal.Decimal `json:"fee,omitzero"`     // the shop's own income in the same line
	Off     bool            `json:"off,omitempty"`    // it is given up
	Why     books.Reason    `json:"why,omitempty"`
	Words   string          `json:"words,omitempty"`
}

func drafted(c *engine.Talk) *draft { return engine.Drafted[draft](c) }

// bankTook reports whether the dialog under way is about money the bank took.
func bankTook(c *engine.Talk) bool {
	f := c.Flow()
	return f != nil && f.Bank != nil && f.Bank.Took
}

// startCredit takes what was typed at once: 1240 for monday.
func startCredit(c *engine.Talk) {
	c.Owing()
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
	value, rest, ok := money(c, s)
	if !ok {
		return false
	}
	drafted(c).Amount = value
	c.GoTo("which")
	if rest = takeBeside(c, rest); rest != "" && !answerWhichClaim(c, rest) {
		drafted(c).Asked = true // some day was meant
		c.First(c.V.Say("credit.no-day", "near", rest))
	}
	return true
}

// paid is the amount in the draft.
func paid(c *engine.Talk) decimal.Decimal { return drafted(c).Amount }

// of are the settlements in the draft, oldest first.
func of(c *engine.Talk) []int64 { return drafted(c).Of }

// left is what a payment for settlements can be at most.
func left(c *engine.Talk, of []int64) decimal.Decimal {
	sum := decimal.Zero
	for _, x := range c.M.ClaimsOf(of) {
		sum = sum.Add(x.Worth())
	}
	return sum
}

// gap is what came more than is due, with what is known to be charges or fees
// put aside; below nothing when it is less.
func gap(c *engine.Talk) decimal.Decimal {
	d := drafted(c)
	return d.Amount.Add(d.Charged).Sub(d.Fee).Sub(left(c, d.Of))
}

// recordCredit writes the payment as what it was said to be.
func recordCredit(choice string) func(*engine.Talk) {
	return func(c *engine.Talk) {
		d := drafted(c)
		r := books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: d.Amount}}}
		if r.Parts = parts(c, choice); d.Whole != "" {
			r.Parts = []books.Part{{As: d.Whole, Value: d.Amount}}
		}
		if lot := lot(c); lot != nil {
			r.Kind, r.Amounts = books.Matched, nil
			r.Parts = append(r.Parts, books.Part{As: lot.As, Of: lot.Seq, Value: d.Amount.Neg()})
		}
		err := comesAfter(c, r.Parts)
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
		c.Close(chat.Lines(c.V.Say("credit.recorded", "when", c.Clock(c.When())), stillDue(c, d.Of), loose))
	}
}

// parts shares a payment out: the settlements oldest first, then what the
// difference was said to be.
func parts(c *engine.Talk, choice string) []books.Part {
	var parts []books.Part
	d, gap := drafted(c), gap(c)
	charged, fee := d.Charged, d.Fee
	switch choice {
	case "charge":
		charged = charged.Sub(gap)
	case "fee":
		fee = fee.Add(gap)
	}
	rest := d.Amount.Add(charged).Sub(fee)
	add := func(as books.Share, of int64, v decimal.Decimal) {
		if !v.IsZero() {
			parts, rest = append(parts, books.Part{As: as, Of: of, Value: v}), rest.Sub(v)
		}
	}
	for _, x := range c.M.ClaimsOf(d.Of) {
		add(books.Pays, x.Seq, decimal.Max(decimal.Min(rest, x.Worth()), decimal.Zero))
	}
	over := books.Unknown
	if choice == "extra" {
		over = books.Extra
	}
	add(over, 0, rest)
	if n := len(d.Of); n > 0 {
		add(books.Charge, d.Of[n-1], charged.Neg())
	}
	add(books.Fee, 0, fee)
	return parts
}

// stillDue says what the bank has yet to pay for settlements.
func stillDue(c *engine.Talk, of []int64) string {
	if len(of) == 0 {
		return ""
	}
	left := decimal.Zero
	for _, x := range c.M.ClaimsOf(of) {
		left = left.Add(x.Left())
	}
	if left.IsPositive() {
		return c.V.Say("credit.still", "day", telling.ClaimDays(c.Teller, of), "money", c.V.Money(left))
	}
	return c.V.Say("credit.done", "day", telling.ClaimDays(c.Teller, of))
}

// bankMessage drafts what to write to the bank about the payment in the draft.
func bankMessage(c *engine.Talk) {
	c.Edit = ""
	words := []string{c.V.Say("bank.subject", "place", c.F.Shop.Name, "day", telling.ClaimDays(c.Teller, of(c))),
		c.V.Say("bank.came", "money", c.V.Money(paid(c)), "when", c.V.Day(c.Local(c.In.At)))}
	for _, x := range c.M.ClaimsOf(of(c)) {
		words = append(words, bankDue(c, x))
	}
	diff := gap(c)
	words = append(words, c.V.Say("bank.diff-"+telling.Sign(diff), "money", c.V.Money(diff.Abs())))
	for _, f := range fits(c) {
		if !f.Value.IsZero() && f.Why != dues.FitsExchanged && f.Why != dues.FitsSlid {
			words = append(words, c.V.Say("bank.fit-"+string(f.Why), "money", c.V.Money(f.Value.Abs())))
			break
		}
	}
	sendCopy(c, words)
}

// bankDue tells the bank what was due for a settlement.
func bankDue(c *engine.Talk, x books.Claim) string {
	return c.V.Say("bank.due", "day", telling.ClaimDay(c.Teller, x), "when", c.V.Clock(c.Local(x.Settled)),
		"money", c.V.Money(x.Left()))
}

// sendCopy sends a message to the bank, to be copied.
func sendCopy(c *engine.Talk, words []string) {
	words = append(words, c.V.Say("bank.ask"))
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(c.V.Say("bank.copy")),
		{Text: strings.Join(words, "\n"), Fixed: true}}})
}
