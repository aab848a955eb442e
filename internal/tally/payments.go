package tally

import (
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Payment is a part of what the bank paid or took, or of an earlier payment of
// which it is known now what it was for: then nothing came. What came is the sum of
// the parts: Came = Paid + Fee + Loose - Charge - Disputed.
type Payment struct {
	Date     shop.Date       // on which it came
	Ref      string          // the number of its record
	ClaimDay shop.Date       // that it pays for; empty: none
	Paid     decimal.Decimal // for that day
	Fee      decimal.Decimal // the shop's own income
	Charge   decimal.Decimal // taken off by the bank
	Disputed decimal.Decimal // taken for customers' claims
	Loose    decimal.Decimal // unmatched or overpaid
}

// Came is the part of the change of the bank account.
func (p *Payment) Came() decimal.Decimal {
	return p.Paid.Add(p.Fee).Add(p.Loose).Sub(p.Charge).Sub(p.Disputed)
}

// payment notes the parts of a record within the span.
func (b *builder) payment(date shop.Date, e books.Entry, forDay map[int64]shop.Date) {
	if len(e.Parts) == 0 || e.Kind == books.WriteOff || !b.within(date) {
		return
	}
	for _, part := range e.Parts {
		p := Payment{Date: date, Ref: strconv.FormatInt(e.Seq, 10), ClaimDay: forDay[part.Of]}
		switch part.As {
		case books.Pays:
			p.Paid = part.Value
			if p.ClaimDay == "" { // for a settlement that was taken back
				p.Paid, p.Loose = decimal.Zero, part.Value
			}
		case books.Fee:
			p.Fee = part.Value
		case books.Charge:
			p.Charge = part.Value.Neg()
		case books.Dispute:
			p.Disputed, p.ClaimDay = part.Value.Neg(), forDay[e.Period]
		default:
			p.ClaimDay, p.Loose = "", part.Value
		}
		b.payments = append(b.payments, p)
	}
}

// PaymentColumns head what stands in a file behind its earlier columns, so that what
// read those goes on. The last one adds up to the change of the bank account.
var PaymentColumns = []string{"payment date", "payment reference", "currency", "shop", "machine", "claim day",
	"given up", "paid for claim day", "own fees in payment", "charges taken off", "claims of customers",
	"unmatched or overpaid", "change of bank account"}

// GivenUpColumn is the place of what was given up among them.
const GivenUpColumn = 6

// PaymentCells are those columns of a part of a payment; write words an amount.
func (m *Machine) PaymentCells(p *Payment, write func(decimal.Decimal) string) []string {
	return append(m.cells(string(p.Date), p.Ref, string(p.ClaimDay)), "", write(p.Paid), write(p.Fee),
		write(p.Charge), write(p.Disputed), write(p.Loose), write(p.Came()))
}

// DayCells are those columns of a day: it is no payment.
func (m *Machine) DayCells(d *Day, write func(decimal.Decimal) string) []string {
	return append(m.cells("", "", string(d.Date)), write(d.GivenUp), "", "", "", "", "", "")
}

func (m *Machine) cells(date, ref, day string) []string {
	return []string{date, ref, m.Shop.Currency, m.Shop.Name, m.Kit.Name, day}
}

// Came adds parts of payments up.
func Came(list []Payment) *Payment {
	t := &Payment{}
	for _, p := range list {
		t.Paid, t.Fee, t.Charge = t.Paid.Add(p.Paid), t.Fee.Add(p.Fee), t.Charge.Add(p.Charge)
		t.Disputed, t.Loose = t.Disputed.Add(p.Disputed), t.Loose.Add(p.Loose)
	}
	return t
}
