package books

import (
	"slices"

	"shopfloat/internal/shop"
)

// DaysOf gives records, by number, the day of trading each is told under. It is
// how the days of records from before they said so themselves became facts.
type DaysOf map[shop.Date][]int64

// dailyKinds are told under a day of their own.
var dailyKinds = []Kind{Opening, Settlement, Credit, Debit, Matched, WriteOff, Moved, Test}

// Daily reports whether records of a kind say under which day they are told.
func Daily(k Kind) bool { return slices.Contains(dailyKinds, k) }

// BySeq turns the list round.
func (d DaysOf) BySeq() map[int64]shop.Date {
	days := map[int64]shop.Date{}
	for day, list := range d {
		for _, seq := range list {
			days[seq] = day
		}
	}
	return days
}

// daysIn gathers what all records say of the days of others.
func daysIn(entries []Entry) map[int64]shop.Date {
	var days map[int64]shop.Date
	for _, e := range entries {
		if e.Kind == Dated && days == nil {
			days = e.Days.BySeq()
			continue
		}
		for seq, day := range e.Days.BySeq() {
			days[seq] = day
		}
	}
	return days
}

// dayed gives an entry the day that another says of it, unless it has its own.
func dayed(e Entry, days map[int64]shop.Date) Entry {
	if e.Day == "" {
		e.Day = days[e.Seq]
	}
	return e
}

// postDated gives what is at hand the days told.
func postDated(m *Machine, _ *Period, e *Entry) ([]Move, error) {
	days := e.Days.BySeq()
	give := func(day *shop.Date, seq int64) {
		if *day == "" {
			*day = days[seq]
		}
	}
	for _, p := range m.Periods {
		give(&p.Date, p.No)
		for i := range p.Slips {
			give(&p.Slips[i].Day, p.Slips[i].Seq)
		}
	}
	for i := range m.Claims {
		give(&m.Claims[i].Day, m.Claims[i].Seq)
	}
	for i := range m.Payments {
		give(&m.Payments[i].Day, m.Payments[i].Seq)
	}
	for i := range m.Loose {
		give(&m.Loose[i].Day, m.Loose[i].Seq)
	}
	for i := range m.Debts {
		give(&m.Debts[i].Day, m.Debts[i].Seq)
	}
	for i := range m.Recent {
		give(&m.Recent[i].Day, m.Recent[i].Seq)
	}
	return nil, nil
}
