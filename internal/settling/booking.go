package settling

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/matching"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/statement"
)

// Booking is a record for the ledger of one machine.
type Booking struct {
	Machine shop.MachineID
	Record  books.Record
}

// TableOf makes of a layout what a shop remembers of its bank's tables.
func TableOf(head string, l statement.Layout) shop.Table {
	data, _ := json.Marshal(l) // of strings and numbers, which it takes
	return shop.Table{Head: head, Layout: data}
}

// LayoutOf reads it back.
func LayoutOf(t shop.Table) (l statement.Layout, err error) {
	err = json.Unmarshal(t.Layout, &l)
	if err == nil && (len(l.Columns) == 0 || l.Point == "" || l.Width <= 0) {
		err = fmt.Errorf("the layout of table %s is not whole", t.Head)
	}
	return l, err
}

// Machines lists the machines that a line would be booked to, in the order of its parts.
func (w *Way) Machines() (list []shop.MachineID) {
	for _, p := range w.Parts {
		if p.Machine != 0 && !slices.Contains(list, p.Machine) {
			list = append(list, p.Machine)
		}
	}
	return list
}

// Of lists the settlements of a machine that a line would be for.
func (w *Way) Of(id shop.MachineID) (list []int64) {
	for _, p := range w.Parts {
		if p.Machine == id && !slices.Contains(list, p.Seq) {
			list = append(list, p.Seq)
		}
	}
	return list
}

// Book makes the records of a line: one for each machine, with what it is for
// there. What is for no settlement goes with the first machine. ok is false when
// the books of a machine, as they are by now, do not have what it is about.
func (o *Offer) Book(w *Way, at func(shop.MachineID) (*shop.Shop, *books.Machine), now time.Time) (
	list []Booking, ok bool) {
	sum := decimal.Zero
	for i, id := range w.Machines() {
		s, m := at(id)
		if s == nil || m == nil {
			return nil, false
		}
		line := o.Line
		r := books.Record{Kind: books.Credit, Line: &line, Ref: o.Ref, Happened: happened(s, line.Day, now)}
		value, good := w.share(m, &r, i == 0)
		if !good || value.IsZero() || value.Sign() != o.Amount.Sign() {
			return nil, false
		}
		kept := books.Credited
		if value.IsNegative() {
			r.Kind, kept = books.Debit, books.Debited
		}
		r.Amounts = []books.Amount{{Field: kept, Value: value.Abs()}}
		r.Day = reminders.Today(s, r.Happened)
		sum, list = sum.Add(value), append(list, Booking{Machine: id, Record: books.Ruled(r)})
	}
	return list, len(list) > 0 && sum.Equal(o.Amount)
}

// share puts the parts of a machine into its record, in the first one also what is
// for none, and gives what they come to. It happened no sooner than the slips that
// it is for, whatever day the bank books by.
func (w *Way) share(m *books.Machine, r *books.Record, first bool) (value decimal.Decimal, ok bool) {
	for _, p := range w.Parts {
		if p.Machine != m.ID && (p.Machine != 0 || !first) {
			continue
		}
		if c := m.Claim(p.Seq); c != nil && c.Settled.After(r.Happened) {
			r.Happened = c.Settled
		}
		part, good := partOf(p, m, r)
		if !good {
			return value, false
		}
		r.Parts, value = append(r.Parts, part), value.Add(part.Value)
	}
	return value, true
}

// partOf is a part as the books have it, if they can: no more is paid for a
// settlement than is left, and no more taken back than was paid.
func partOf(p Part, m *books.Machine, r *books.Record) (part books.Part, ok bool) {
	part = books.Part{As: books.Share(p.As), Of: p.Seq, Value: p.Value}
	c := m.Claim(p.Seq)
	switch {
	case p.Seq == 0:
		return part, p.As != matching.Pays
	case c == nil:
		return part, false
	case p.As == matching.Dispute:
		r.Period, part.Of = c.Period, 0
		return part, true
	case p.Value.IsNegative():
		return part, p.As == matching.Pays && p.Value.Neg().LessThanOrEqual(c.Paid)
	}
	return part, p.As == matching.Pays && p.Value.LessThanOrEqual(c.Left())
}

// happened is when a payment came, as far as the bank says: at noon of its day,
// and not later than now.
func happened(s *shop.Shop, day shop.Date, now time.Time) time.Time {
	at := reminders.Instant(s.Location, day, 12*60)
	if at.After(now) {
		at = now
	}
	return at.UTC()
}

// money are the kinds of record that change what a line can be for.
var money = []books.Kind{books.Credit, books.Debit, books.Matched, books.WriteOff, books.Undo,
	books.Correction}

// Moved reports whether money was booked since an entry, as far as that is still known.
func Moved(m *books.Machine, since int64) bool {
	if m.Seq == since {
		return false
	}
	known := m.Seq
	for _, b := range m.Recent {
		known = min(known, b.Seq)
		if b.Seq > since && slices.Contains(money, b.Kind) {
			return true
		}
	}
	return known > since+1
}
