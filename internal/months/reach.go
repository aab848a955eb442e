package months

import (
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Reach gives for each entry the first day whose figures it may change: its own, or that of
// what it is about. What changes a day may change the days behind it, never one before.
func Reach(entries []books.Entry, local func(time.Time) shop.Date) map[int64]shop.Date {
	first := make(map[int64]shop.Date, len(entries))
	for i := range entries {
		e := &entries[i]
		day := earliest(&e.Record, first, local)
		if in := e.Instead; in != nil {
			day = min(day, earliest(in, first, local))
		}
		first[e.Seq] = day
	}
	return first
}

func earliest(r *books.Record, first map[int64]shop.Date, local func(time.Time) shop.Date) shop.Date {
	if r.Kind == books.Dated {
		return "" // it says of all records before which day they are of
	}
	day := r.Day
	if day == "" { // trading may go on after midnight
		day = local(r.Happened).Add(-1)
	}
	for _, seq := range about(r) {
		if d, known := first[seq]; known {
			day = min(day, d)
		}
	}
	return day
}

// about lists the entries that a record is about; some numbers are of none.
func about(r *books.Record) []int64 {
	of := []int64{r.Target, r.Period}
	for _, p := range r.Parts {
		of = append(of, p.Of)
	}
	return of
}

// paidWithin is within how many days the bank usually pays.
const paidWithin = 7

// Reaching gives books, and all entries since, that are enough to tell of a span: of its
// days, of finished months as they were, and of what was recorded within it for days of
// those. lately gives such for the days from one on, back such that the entries from a
// number on are among them.
func Reaching(list []Month, from, to shop.Date, local func(time.Time) shop.Date,
	lately func(shop.Date) (*books.Machine, []books.Entry), back func(int64) (*books.Machine, []books.Entry)) (
	*books.Machine, []books.Entry) {
	day := from
	for _, m := range list { // the last days of a month are paid in the next
		if m.First < from && m.Last >= from.Add(-paidWithin) {
			day = m.First
		}
	}
	then, entries := lately(day)
	for seq := int64(0); then.Seq > 0; {
		w := wanting{then: then.Seq, entries: entries, day: day}
		w.tell(list, from, to, local)
		if w.day >= day && w.seq == 0 {
			break
		}
		if day = w.day; w.seq > 0 && (seq == 0 || w.seq < seq) {
			seq = w.seq
		}
		if then, entries = lately(day); seq > 0 && then.Seq >= seq {
			then, entries = back(seq)
		}
	}
	return then, entries
}

// wanting finds what is to be read besides what was.
type wanting struct {
	then    int64 // the last entry that was not read
	entries []books.Entry
	day     shop.Date // from which days are wanted
	seq     int64     // from which entries are wanted; 0: all that are were read
}

func (w *wanting) tell(list []Month, from, to shop.Date, local func(time.Time) shop.Date) {
	first := Reach(w.entries, local)
	for _, m := range list {
		if m.First <= to && m.Last >= from {
			w.want(m.Upto + 1)
		}
		for i := range w.entries {
			e := &w.entries[i]
			if at := local(e.Recorded); e.Seq <= m.Upto || at < from || at > to {
				continue
			}
			if w.behind(e); first[e.Seq] <= m.Last {
				w.day = min(w.day, m.First)
				w.want(m.Upto + 1)
			}
		}
	}
}

func (w *wanting) want(seq int64) {
	if seq > 0 && seq <= w.then && (w.seq == 0 || seq < w.seq) {
		w.seq = seq
	}
}

// behind wants what an entry is about, and what that is about.
func (w *wanting) behind(e *books.Entry) {
	of := about(&e.Record)
	if e.Instead != nil {
		of = append(of, about(e.Instead)...)
	}
	for _, seq := range of {
		w.want(seq)
		by := func(x books.Entry, seq int64) int { return int(x.Seq - seq) }
		if i, at := slices.BinarySearchFunc(w.entries, seq, by); at && seq < e.Seq {
			w.behind(&w.entries[i])
		}
	}
}
