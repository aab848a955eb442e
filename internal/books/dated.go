package books

import (
	"slices"
	"time"

	"shopfloat/internal/shop"
)

// DaysOf gives records, by number, the day of trading each is told under. It is
// how the days of records from before they said so themselves became facts.
type DaysOf map[shop.Date][]int64

// bySeq turns the list round.
func (d DaysOf) bySeq() map[int64]shop.Date {
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
			days = e.Days.bySeq()
			continue
		}
		for seq, day := range e.Days.bySeq() {
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
	days := e.Days.bySeq()
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

// DayRule is a rule by which days of trading follow from instants.
type DayRule interface {
	Opened(at time.Time) shop.Date                    // of a period opened then
	Date(at time.Time) shop.Date                      // of anything else
	Printed(period shop.Date, at time.Time) shop.Date // of a slip of a period
}

// datedKinds are told under a day of their own.
var datedKinds = []Kind{Opening, Settlement, Credit, Debit, Matched, Moved, Test}

// FirstDays works out the days of entries that say none, each by the rule of its
// time. A slip was printed at the count, however late it was typed in.
func FirstDays(entries []Entry, rule func(Entry) DayRule) DaysOf {
	days, of := DaysOf{}, map[int64]shop.Date{}
	give := func(e Entry, day shop.Date) {
		if _, had := of[e.Seq]; had || e.Day != "" {
			return
		}
		of[e.Seq] = day
		days[day] = append(days[day], e.Seq)
	}
	valid := InForce(entries)
	counted := map[int64]time.Time{}
	for _, e := range valid {
		switch e.Kind {
		case Opening:
			give(e, rule(e).Opened(e.Happened))
		case Count:
			counted[e.Period] = e.Happened
		}
	}
	for _, e := range slices.Concat(valid, entries) { // those that do not hold too: history shows them
		switch {
		case !slices.Contains(datedKinds, e.Kind):
		case e.Kind == Opening:
			give(e, rule(e).Opened(e.Happened))
		case e.Kind == Settlement:
			at := e.Happened
			if end, ok := counted[e.Period]; ok && end.Before(at) {
				at = end
			}
			give(e, rule(e).Printed(of[e.Period], at))
		default:
			give(e, rule(e).Date(e.Happened))
		}
	}
	for _, list := range days {
		slices.Sort(list)
	}
	return days
}

// Retold lists the days under which periods and slips are told now and were
// not before, with the days before: a slip was told with its period. was are
// the days by the rule that was asked for each time.
func Retold(entries []Entry, days, was DaysOf) map[shop.Date]shop.Date {
	is, before, list := days.bySeq(), was.bySeq(), map[shop.Date]shop.Date{}
	for _, e := range InForce(entries) {
		old := before[e.Seq]
		switch e.Kind {
		case Settlement:
			old = before[e.Period]
		case Opening:
		default:
			continue
		}
		if now := is[e.Seq]; now != "" && now != old {
			list[now] = old
		}
	}
	return list
}
