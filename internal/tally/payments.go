package tally

import (
	"cmp"
	"slices"
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
	Late     bool            // what was recorded of a finished month since then
	Ref      string          // the bank's own reference; empty: it is not known
	Entry    int64           // the number of its record
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

// reference is the bank's, of the payment that a record is about where it is none itself.
func (b *builder) reference(e books.Entry) string {
	for _, part := range e.Parts {
		if e.Kind == books.Matched && b.refs[part.Of] != "" {
			return b.refs[part.Of]
		}
	}
	return e.Ref
}

// payment notes the parts of a record within the span.
func (b *builder) payment(date shop.Date, e books.Entry, forDay map[int64]shop.Date) {
	if len(e.Parts) == 0 || e.Kind == books.WriteOff || !b.within(date) {
		return
	}
	ref := b.reference(e)
	for _, part := range e.Parts {
		p := Payment{Date: date, Ref: ref, Entry: e.Seq, ClaimDay: forDay[part.Of]}
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
// read those goes on. [CameColumn] adds up to the change of the bank account.
var PaymentColumns = []string{"payment date", "payment reference", "currency", "shop", "machine", "claim day",
	"given up", "paid for claim day", "own fees in payment", "charges taken off", "claims of customers",
	"unmatched or overpaid", "change of bank account", "entry", "tax in own fees"}

// Places among them: what was given up, what came, and the tax in the fees of a day.
const (
	GivenUpColumn = 6
	CameColumn    = 12
	TaxColumn     = 14
)

// PaymentCells are those columns of a part of a payment; write words an amount. One of
// which the bank's reference is not known goes by the number of its record.
func (m *Machine) PaymentCells(p *Payment, write func(decimal.Decimal) string) []string {
	cells := append(m.cells(p.Name(), p.Reference(), string(p.ClaimDay)), "")
	for _, v := range p.Amounts() {
		cells = append(cells, write(v))
	}
	return append(cells, p.number(), "")
}

// DayCells are those columns of a day: it is no payment.
func (m *Machine) DayCells(d *Day, write func(decimal.Decimal) string) []string {
	return append(m.cells("", "", string(d.Date)), write(d.GivenUp), "", "", "", "", "", "", "", write(d.Tax))
}

func (m *Machine) cells(date, ref, day string) []string {
	return []string{date, ref, m.Shop.Currency, m.Shop.Name, m.Kit.Name, day}
}

// AmountColumns name the amounts of a part of a payment, in the order of [Payment.Amounts].
var AmountColumns = PaymentColumns[GivenUpColumn+1 : CameColumn+1]

// Amounts lists the amounts of a part; the last one is what came.
func (p *Payment) Amounts() []decimal.Decimal {
	return []decimal.Decimal{p.Paid, p.Fee, p.Charge, p.Disputed, p.Loose, p.Came()}
}

// Name is the date of a payment as files have it, with "for" before that of a line of
// what was recorded since its month was finished.
func (p *Payment) Name() string { return (&Day{Date: p.Date, Late: p.Late}).Name() }

// Reference is the bank's own, else the number of the record.
func (p *Payment) Reference() string { return cmp.Or(p.Ref, p.number()) }

func (p *Payment) number() string {
	if p.Entry == 0 {
		return ""
	}
	return strconv.FormatInt(p.Entry, 10)
}

// Astray reports whether a customer's claim is about a day that is not at hand: the days
// were added up from books that had let go of it.
func (m *Machine) Astray() bool {
	return slices.ContainsFunc(m.Payments, func(p Payment) bool {
		return !p.Disputed.IsZero() && p.ClaimDay == ""
	})
}

// Came adds parts of payments up.
func Came(list []Payment) *Payment {
	t := &Payment{}
	for i := range list {
		t.plus(&list[i], 1)
	}
	return t
}

// plus adds the amounts of a part, or takes them away.
func (p *Payment) plus(o *Payment, sign int64) {
	n := decimal.NewFromInt(sign)
	p.Paid, p.Fee, p.Charge = p.Paid.Add(o.Paid.Mul(n)), p.Fee.Add(o.Fee.Mul(n)), p.Charge.Add(o.Charge.Mul(n))
	p.Disputed, p.Loose = p.Disputed.Add(o.Disputed.Mul(n)), p.Loose.Add(o.Loose.Mul(n))
}
