package ledger

import (
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// reading is how the past of a machine is read: within a transaction, or beside the program that
// writes the file.
type reading struct {
	id     shop.MachineID
	each   file.Query
	after  func(seq int64) ([]books.Entry, error)
	claims func(dues.Wanted) ([]books.Claim, error)
}

func (t Ledger) reading(id shop.MachineID) reading {
	return reading{id: id, each: t.tx.Each,
		after:  func(seq int64) ([]books.Entry, error) { return t.after(id, seq) },
		claims: func(w dues.Wanted) ([]books.Claim, error) { return t.Claims(id, w) }}
}

func readingOf(each file.Query, id shop.MachineID) reading {
	return reading{id: id, each: each,
		after: func(seq int64) ([]books.Entry, error) {
			return readRows(each, entryQuery+"> ? ORDER BY seq", id, seq)
		},
		claims: func(w dues.Wanted) ([]books.Claim, error) { return ReadClaims(each, id, w) }}
}

// Before is [Ledger.Before] of what stands at one moment.
func Before(each file.Query, id shop.MachineID, seq int64) (*books.Machine, []books.Entry, error) {
	return readingOf(each, id).before(seq)
}

// Lately is [Ledger.Lately] of what stands at one moment.
func Lately(each file.Query, id shop.MachineID, from shop.Date) (*books.Machine, []books.Entry, error) {
	return readingOf(each, id).lately(from)
}

func (r reading) before(seq int64) (*books.Machine, []books.Entry, error) {
	then, err := lastBefore(r.each, r.id, "seq < ?", seq)
	return r.from(then, err)
}

func (r reading) lately(from shop.Date) (*books.Machine, []books.Entry, error) {
	then, err := lastBefore(r.each, r.id, "day < ?", from.Add(-dayAhead))
	return r.from(then, err)
}

// from gives a checkpoint, if there is one, and all entries since.
func (r reading) from(then *books.Machine, err error) (*books.Machine, []books.Entry, error) {
	if err != nil {
		return nil, nil, err
	}
	if then == nil {
		entries, err := ReadAll(r.each, r.id, time.Time{})
		return nil, entries, err
	}
	p := &past{then: then}
	if p.entries, err = r.after(then.Seq); err == nil {
		err = r.claimsThen(p)
	}
	return p.then, p.entries, err
}

// claimsThen works out what was known of claims at a checkpoint: what is known now,
// less what was paid and given up since. Both only ever add up.
func (r reading) claimsThen(p *past) error {
	var of []int64
	need := func(list []int64) {
		for _, seq := range list {
			if seq <= p.then.Seq && !slices.Contains(of, seq) {
				of = append(of, seq)
			}
		}
	}
	need(p.also)
	for i := range p.entries {
		need(p.entries[i].Needs())
	}
	var err error
	if len(of) > 0 {
		if p.now, err = r.claims(dues.Wanted{Of: of}); err != nil {
			return err
		}
	}
	then := map[int64]*books.Claim{}
	for i := range p.now {
		c := p.now[i]
		then[c.Seq] = &c
	}
	for _, e := range books.InForce(p.entries) {
		for _, part := range e.Parts {
			switch c := then[part.Of]; {
			case c == nil:
			case part.As == books.Pays:
				c.Paid = c.Paid.Sub(part.Value)
			case part.As == books.GivenUp:
				c.GivenUp = c.GivenUp.Sub(part.Value)
			}
		}
	}
	list := make([]books.Claim, 0, len(then))
	for _, c := range then {
		list = append(list, *c)
	}
	p.then = p.then.With(list)
	later, err := r.claims(dues.Wanted{After: p.then.Seq})
	p.now = append(p.now, later...)
	return err
}
