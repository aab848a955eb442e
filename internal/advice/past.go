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

	loaded map[cashmath.Face]map[demand.Day]load
}

// load is what was put in for a day alone, top-ups with it.
type load struct {
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
		loaded: map[cashmath.Face]map[demand.Day]load{},
	}
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
	first, last := daysOf(l.days, p)
	if l.boxes != "" && l.boxes != p.Boxes {
		l.past.Shifts = append(l.past.Shifts, first)
	}
	l.boxes = p.Boxes
	still, seen := standing(l.shop, l.days, first, last), l.served(p, first, last)
	for _, k := range p.Kinds {
		known := seen
		if known == demand.Full && (l.warned[p.No] || k.RanOut) {
			known = demand.AtLeast
		}
		least := float64(k.Paid)
		if day := l.days.On(dateOf(first)); known == demand.AtLeast && first == last && !day.Endless {
			least = k.asked(day.Open, day.Close)
		}
		l.periods[k.Face] = append(l.periods[k.Face], demand.Period{
			First: first, Last: last, Notes: least, Known: known, Still: still})
		if first == last {
			l.past.put(k.Face, first, load{k.PutIn, k.RanOut})
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

func (p *Past) put(face cashmath.Face, day demand.Day, l load) {
	if p.loaded[face] == nil {
		p.loaded[face] = map[demand.Day]load{}
	}
	before := p.loaded[face][day]
	p.loaded[face][day] = load{before.notes + l.notes, before.out || l.out}
}

// daysOf are the days a period was for. One that was counted in the morning,
// before trading began, ended the day before; one that ended before the day it
// was loaded for, a holiday on which the shop traded all the same, is its own.
func daysOf(days *reminders.Days, p *Closed) (first, last demand.Day) {
	from := p.Date
	if from == "" {
		from = days.DayOf(p.Opened)
	}
	to := days.Today(p.Counted)
	if d := days.On(to); p.Early || d.Closed == reminders.Trading && p.Counted.Before(d.Open) {
		to = to.Add(-1)
	}
	to = max(to, days.Today(p.Opened))
	return dayOf(min(from, to)), dayOf(to)
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
