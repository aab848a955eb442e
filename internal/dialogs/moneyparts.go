package dialogs

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
)

// recordCredit writes the payment as what it was said to be.
func recordCredit(choice string) func(*talk) { return func(c *talk) { c.recordCredit(choice) } }

func (c *talk) recordCredit(choice string) {
	value := c.paid()
	r := books.Record{Kind: books.Credit, Amounts: []books.Amount{{Field: books.Credited, Value: value}}}
	if whole := c.chosen("whole"); whole != "" {
		r.Parts = []books.Part{{As: books.Share(whole), Value: value}}
	} else {
		r.Parts = c.parts(choice)
	}
	of := c.of()
	if lot := c.lot(); lot != nil {
		r.Kind, r.Amounts = books.Matched, nil
		r.Parts = append(r.Parts, books.Part{As: lot.As, Of: lot.Seq, Value: value.Neg()})
	}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	c.quietPaid(of)
	c.close(text(c.v.Say("credit.recorded", "when", c.clock(c.when())), c.stillDue(of), c.looseNow()))
}

// parts shares a payment out: the settlements oldest first, then what the
// difference was said to be.
func (c *talk) parts(choice string) []books.Part {
	var parts []books.Part
	rest := c.paid()
	if choice == "charge" {
		rest = c.left()
	}
	of := c.of()
	for _, seq := range of {
		x := c.m.Claim(seq)
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
		parts = append(parts, books.Part{As: books.Charge, Of: of[len(of)-1], Value: c.paid().Sub(c.left())})
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
func (c *talk) stillDue(of []int64) string {
	if len(of) == 0 {
		return ""
	}
	left := decimal.Zero
	for _, seq := range of {
		if x := c.m.Claim(seq); x != nil {
			left = left.Add(x.Left())
		}
	}
	if left.IsPositive() {
		return c.v.Say("credit.still", "day", c.claimDays(of), "money", c.v.Money(left))
	}
	return c.v.Say("credit.done", "day", c.claimDays(of))
}

// looseNow says what money is there that is for nothing known.
func (c *talk) looseNow() string {
	if len(c.m.Loose) == 0 {
		return ""
	}
	return c.v.Say("credit.loose")
}

// bankMessage drafts what to write to the bank about the payment in the draft.
func bankMessage(c *talk) {
	c.edit = ""
	lines := []string{c.v.Say("bank.copy")}
	words := []string{c.v.Say("bank.subject", "place", c.f.Shop.Name, "day", c.claimDays(c.of())),
		c.v.Say("bank.came", "money", c.v.Money(c.paid()), "when", c.v.Day(c.local(c.in.At)))}
	for _, seq := range c.of() {
		if x := c.m.Claim(seq); x != nil {
			words = append(words, c.v.Say("bank.due", "day", c.claimDay(*x), "money",
				c.v.Money(x.Left()), "when", c.v.Clock(c.local(x.Settled))))
		}
	}
	diff := c.paid().Sub(c.left())
	words = append(words, c.v.Say("bank.diff-"+sign(diff), "money", c.v.Money(diff.Abs())))
	for _, f := range c.fits() {
		if !f.Value.IsZero() && f.Why != books.FitsExchanged && f.Why != books.FitsSlid {
			words = append(words, c.v.Say("bank.fit-"+string(f.Why), "money", c.v.Money(f.Value.Abs())))
			break
		}
	}
	words = append(words, c.v.Say("bank.ask"))
	c.send(Reply{Body: []Block{text(lines...), {Text: strings.Join(words, "\n"), Fixed: true}}})
}
