package settling

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Known gives a machine of any shop that somebody keeps the books of, with these
// claims at hand; nil: they do not.
type Known func(id shop.MachineID, of []int64) (*shop.Shop, *books.Machine)

// Ledgers are the books of the machines that lines are booked to, as they become by it.
type Ledgers struct {
	known Known
	by    map[shop.MachineID]*books.Machine
	in    map[shop.MachineID]*shop.Shop
}

// NewLedgers begins with the books as they are known.
func NewLedgers(known Known) *Ledgers {
	return &Ledgers{known, map[shop.MachineID]*books.Machine{}, map[shop.MachineID]*shop.Shop{}}
}

// at gives a machine with all that a way is about at hand.
func (k *Ledgers) at(w *Way) func(shop.MachineID) (*shop.Shop, *books.Machine) {
	return func(id shop.MachineID) (*shop.Shop, *books.Machine) {
		s, m := k.in[id], k.by[id]
		if k.known == nil {
			return nil, nil
		}
		now, fresh := k.known(id, w.Of(id))
		if m == nil {
			s, m = now, fresh
		} else if fresh != nil {
			m = m.With(fresh.Claims)
		}
		if m != nil {
			k.in[id], k.by[id] = s, m
		}
		return s, m
	}
}

// Can reports whether the books have what a line would be for.
func (k *Ledgers) Can(o *Offer, w *Way, now time.Time) bool {
	_, ok := o.Book(w, k.at(w), now)
	return ok
}

// Post makes the records of a line and takes them into the books at hand, which it
// gives; false where these do not have what it is about any more.
func (k *Ledgers) Post(o *Offer, w *Way, by shop.PersonID, now time.Time) (
	list []Booking, after map[shop.MachineID]*books.Machine, ok bool) {
	list, ok = o.Book(w, k.at(w), now)
	if !ok {
		return nil, nil, false
	}
	after = map[shop.MachineID]*books.Machine{}
	for _, b := range list {
		m := k.by[b.Machine].Clone()
		e := books.Entry{Record: b.Record, Machine: b.Machine, Seq: m.Seq + 1, By: by,
			Settings: k.in[b.Machine].Version, Recorded: now.UTC()}
		if _, err := m.Post(e); err != nil {
			return nil, nil, false
		}
		after[b.Machine] = m
	}
	for id, m := range after {
		k.by[id] = m
	}
	return list, after, true
}
