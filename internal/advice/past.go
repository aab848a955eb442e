package advice

import (
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Past is what the ledger of one machine tells about demand.
type Past struct {
	Paid    map[cashmath.Face]demand.History // notes paid out, by kind, up to the last closed period
	Shifts  []demand.Day                     // first days with other boxes than before
	Takings map[cashmath.Face]int64          // usual net notes a trading day from the tills; what moves tell

	loads []load
}

// load is what a period put in for a day alone, top-ups with it.
type load struct {
	face  cashmath.Face
	day   demand.Day
	notes int64
	out   bool // it ran out
}

// Learn reads a machine's ledger, oldest entry first, for [State.Past].
func Learn(s *shop.Shop, id shop.MachineID, entries []books.Entry) (*Past, error) {
	st, err := Learned(id, entries)
	if err != nil {
		return nil, err
	}
	return st.Past(s)
}

// Past is what a state tells about demand at a shop. A period over several days
// is spread over them; a day on which all boxes of a kind ran empty, or that was
// ended early because of a warning, tells only the least that was asked for, and so
// does one with an outage; days on which the machine stood still tell nothing. The
// shop's present hours are taken for all of its past.
func (s State) Past(of *shop.Shop) (*Past, error) {
	s = s.used()
	past := &Past{
		Paid: map[cashmath.Face]demand.History{}, Takings: s.takings(of),
	}
	past.loads = make([]load, 0, 3*len(s.Days))
	l := learner{past: past, shop: of, days: reminders.NewDays(of), warned: map[int64]bool{},
		faults: s.outages(), periods: map[cashmath.Face][]demand.Period{}}
	for _, w := range s.Warned {
		l.warned[w.Period] = true
	}
	for i := range s.Days {
		l.take(&s.Days[i])
	}
	var err error
	for face, list := range l.periods {
		if past.Paid[face], err = demand.Spread(list); err != nil {
			return nil, err
		}
	}
	return past, nil
}

// learner goes through closed periods.
type learner struct {
	past    *Past
	shop    *shop.Shop
	days    *reminders.Days
	warned  map[int64]bool
	faults  []outage
	boxes   string // of the period before
	periods map[cashmath.Face][]demand.Period
}

func (l *learner) take(p *Closed) {
	from, to := datesOf(l.days, p)
	first := dayOf(from)
	last := first
	var still []demand.Day
	if from != to {
		last = dayOf(to)
		still = standing(l.shop, l.days, first, last)
	}
	if l.boxes != "" && l.boxes != p.Boxes {
		l.past.Shifts = append(l.past.Shifts, first)
	}
	l.boxes = p.Boxes
	seen := l.served(p, first, last)
	for _, k := range p.Kinds {
		known := seen
		if known == demand.Full && (l.warned[p.No] || k.RanOut) {
			known = demand.AtLeast
		}
		least := float64(k.Paid)
		if known == demand.AtLeast && first == last {
			if day := l.days.On(from); !day.Endless {
				least = k.asked(day.Open, day.Close)
			}
		}
		l.periods[k.Face] = append(l.periods[k.Face], demand.Period{
			First: first, Last: last, Notes: least, Known: known, Still: still})
		if first == last {
			l.past.loads = append(l.past.loads, load{k.Face, first, k.PutIn, k.RanOut})
		}
	}
}

// Next is the date after the last day of the past; empty when there is none.
func (p *Past) Next() shop.Date {
	if next := p.next(); next != 0 {
		return dateOf(next)
	}
	return ""
}

func (p *Past) next() (next demand.Day) {
	for _, h := range p.Paid {
		next = max(next, h.Next())
	}
	return next
}

// loaded is what was put in of a kind for a day alone; ok is false for nothing.
func (p *Past) loaded(face cashmath.Face, day demand.Day) (all load, ok bool) {
	for _, l := range p.loads {
		if l.face == face && l.day == day {
			all.notes, all.out, ok = all.notes+l.notes, all.out || l.out, true
		}
	}
	return all, ok
}

// datesOf are the days a period was for. One that was counted in the morning,
// before trading began, ended the day before; one that ended before the day it
// was loaded for, a holiday on which the shop traded all the same, is its own.
func datesOf(days *reminders.Days, p *Closed) (first, last shop.Date) {
	from := p.Date
	if from == "" {
		from = days.DayOf(p.Opened)
	}
	to := days.Today(p.Counted)
	before := p.Early || days.Early(to, p.Counted)
	if before {
		to = to.Add(-1)
	}
	if before || to != from || p.Opened.After(p.Counted) { // else it was opened no later than that day
		to = max(to, days.Today(p.Opened))
	}
	return min(from, to), to
}

// standing lists the days of a period on which the machine could not pay; none
// when it could not on any of them and paid all the same.
func standing(s *shop.Shop, days *reminders.Days, first, last demand.Day) []demand.Day {
	var still []demand.Day
	for d := first; d <= last; d++ {
		if !canPay(s, days.On(dateOf(d))) {
			still = append(still, d)
		}
	}
	if len(still) == int(last-first)+1 {
		return nil
	}
	return still
}
