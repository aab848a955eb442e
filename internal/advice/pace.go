package advice

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
)

// RunsOut is when a box of a period will be empty: at the pace shown by its last
// level check, else at that of the last period whose payouts are known.
func RunsOut(m *books.Machine, p *books.Period, i int) (time.Time, bool) {
	b := p.Boxes[i]
	if n := len(p.Readings); n > 0 && i < len(p.Readings[n-1].Boxes) {
		r := p.Readings[n-1]
		paid := r.Held[i] - r.Boxes[i]
		return lasts(r.Happened, b.Held-paid, paid, r.Happened.Sub(p.Opened))
	}
	last := lastPaid(m, p)
	if last == nil {
		return time.Time{}, false
	}
	held, paid := p.Held()[b.Face], books.Notes{}
	for _, s := range last.Slips {
		paid.Add(s.PaidOut)
	}
	return lasts(p.Opened, held, paid[b.Face], last.CountedAt.Sub(last.Opened))
}

// EmptyAt is when the first kind of note of a period is expected to run out before its
// day closes; false: none is.
func EmptyAt(m *books.Machine, p *books.Period, day reminders.Day) (first time.Time, ok bool) {
	if day.Closed != reminders.Trading {
		return first, false
	}
	for i := range p.Boxes {
		at, known := RunsOut(m, p, i)
		if known && at.Before(day.Close) && (!ok || at.Before(first)) {
			first, ok = at, true
		}
	}
	return first, ok
}

// lastPaid is the newest period before p whose payouts by kind are known.
func lastPaid(m *books.Machine, p *books.Period) (best *books.Period) {
	for _, old := range m.Periods {
		if old.No < p.No && old.Status == books.Closed && !old.TotalOnly() && len(old.Slips) > 0 {
			best = old
		}
	}
	return best
}

// lasts tells when notes will have been paid out at the pace of so many in a span.
func lasts(from time.Time, left, paid int64, in time.Duration) (time.Time, bool) {
	if left <= 0 || paid <= 0 || in < time.Hour/4 {
		return time.Time{}, false
	}
	return from.Add(time.Duration(int64(in/time.Second)*left/paid) * time.Second), true
}
