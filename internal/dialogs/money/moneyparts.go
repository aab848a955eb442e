package money

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// recordCredit writes the payment as what it was said to be.
func recordCredit(choice string) func(*engine.Talk) {
	return func(c *engine.Talk) { bookCredit(c, choice) }
}

func bookCredit(c *engine.Talk, choice string) {
	value := paid(c)
	r := books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: value}}}
	if whole := drafted(c).Whole; whole != "" {
		r.Parts = []books.Part{{As: whole, Value: value}}
	} else {
		r.Parts = parts(c, choice)
	}
	of := of(c)
	if lot := lot(c); lot != nil {
		r.Kind, r.Amounts = books.Matched, nil
		r.Parts = append(r.Parts, books.Part{As: lot.As, Of: lot.Seq, Value: value.Neg()})
	}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	trade.QuietPaid(c, of)
	c.Close(engine.Text(c.V.Say("credit.recorded", "when", c.Clock(c.When())), stillDue(c, of), looseNow(c)))
}

// parts shares a payment out: the settlements oldest first, then what the
// difference was said to be.
func parts(c *engine.Talk, choice string) []books.Part {
	var parts []books.Part
	rest := paid(c)
	if choice == "charge" {
		rest = left(c)
	}
	of := of(c)
	for _, seq := range of {
		x := c.M.Claim(seq)
		if x == nil {
			continue
		}
		if pay := decimal.Min(rest, x.Left()); pay.IsPositive() {
			parts = append(parts, books.Part{As: books.Pays, Of: seq, Value: pay})
			rest = rest.Sub(pay)
		}
	}
	switch {
	case choice == "charge":
		parts = append(parts, books.Part{As: books.Charge, Of: of[len(of)-1], Value: paid(c).Sub(left(c))})
	case rest.IsZero():
	case choice == "fee":
		parts = append(parts, books.Part{As: books.Fee, Value: rest})
	case choice == "extra":
		parts = append(parts, books.Part{As: books.Extra, Value: rest})
	default:
		parts = append(parts, books.Part{As: books.Unknown, Value: rest})
	}
	return parts
}

// stillDue says what the bank has yet to pay for settlements.
func stillDue(c *engine.Talk, of []int64) string {
	if len(of) == 0 {
		return ""
	}
	left := decimal.Zero
	for _, seq := range of {
		if x := c.M.Claim(seq); x != nil {
			left = left.Add(x.Left())
		}
	}
	if left.IsPositive() {
		return c.V.Say("credit.still", "day", claimDays(c, of), "money", c.V.Money(left))
	}
	return c.V.Say("credit.done", "day", claimDays(c, of))
}

// looseNow says what money is there that is for nothing known.
func looseNow(c *engine.Talk) string {
	if len(c.M.Loose) == 0 {
		return ""
	}
	return c.V.Say("credit.loose")
}

// bankMessage drafts what to write to the bank about the payment in the draft.
func bankMessage(c *engine.Talk) {
	c.Edit = ""
	lines := []string{c.V.Say("bank.copy")}
	words := []string{c.V.Say("bank.subject", "place", c.F.Shop.Name, "day", claimDays(c, of(c))),
		c.V.Say("bank.came", "money", c.V.Money(paid(c)), "when", c.V.Day(c.Local(c.In.At)))}
	for _, seq := range of(c) {
		if x := c.M.Claim(seq); x != nil {
			words = append(words, c.V.Say("bank.due", "day", claimDay(c, *x), "money",
				c.V.Money(x.Left()), "when", c.V.Clock(c.Local(x.Settled))))
		}
	}
	diff := paid(c).Sub(left(c))
	words = append(words, c.V.Say("bank.diff-"+trade.Sign(diff), "money", c.V.Money(diff.Abs())))
	for _, f := range fits(c) {
		if !f.Value.IsZero() && f.Why != books.FitsExchanged && f.Why != books.FitsSlid {
			words = append(words, c.V.Say("bank.fit-"+string(f.Why), "money", c.V.Money(f.Value.Abs())))
			break
		}
	}
	words = append(words, c.V.Say("bank.ask"))
	c.Send(chat.Reply{Body: []chat.Block{engine.Text(lines...), {Text: strings.Join(words, "\n"), Fixed: true}}})
}
