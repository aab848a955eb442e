package advice

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/demand"
)

// outage is a time in which the machine was out of service.
type outage struct{ from, until time.Time }

// outages lists those that a state tells of. One that goes on lasts until the newest
// period was counted.
func (s State) outages() []outage {
	entries := make([]books.Entry, 0, len(s.Troubles))
	for _, t := range s.Troubles {
		kind := books.Incident
		if t.Target != 0 {
			kind = books.News
		}
		entries = append(entries, books.Entry{Seq: t.Seq, Record: books.Record{Kind: kind, Happened: t.At,
			Target: t.Target, Trouble: &books.Trouble{Topic: t.Topic, Ending: t.Ending, Out: t.Out,
				Served: t.Served}}})
	}
	var list []outage
	for _, f := range books.Faults(entries) {
		if f.Out.IsZero() {
			continue
		}
		end := f.Back
		if end.IsZero() {
			end = s.Newest()
		}
		list = append(list, outage{f.Out, end})
	}
	return list
}

// Bounds of what an outage does to a day's figure; common practice, no source.
const (
	outageFelt  = 30 * time.Minute // from here on some customers found it out of service
	outageWhole = 0.9              // share of the trading time from which the day tells nothing
)

// served says how much a period's figures tell, by how long the machine was out of
// service while the shop traded.
func (l *learner) served(p *Closed, first, last demand.Day) demand.Known {
	var traded, out time.Duration
	for day := first; day <= last && len(l.faults) > 0; day++ {
		d := l.days.On(dateOf(day))
		open := outage{later(d.Open, p.Opened), earlier(d.Close, p.Counted)}
		traded += open.within(open)
		for _, f := range l.faults {
			out += f.within(open)
		}
	}
	switch {
	case traded > 0 && out >= time.Duration(outageWhole*float64(traded)):
		return demand.Missing
	case out >= outageFelt:
		return demand.AtLeast
	}
	return demand.Full
}

// within is how long an outage lasted inside a span.
func (o outage) within(span outage) time.Duration {
	return max(0, earlier(o.until, span.until).Sub(later(o.from, span.from)))
}

func later(a, b time.Time) time.Time {
	if a.Before(b) {
		return b
	}
	return a
}
