package reminders

import (
	"time"

	"shopfloat/internal/shop"
)

// Holds gives the instant until which [DayOf] says the same as at an instant, by the same
// version of a shop; it may change later than that. Before it nobody needs to ask the plan
// again. It is not after the instant where nothing can be said.
func Holds(s *shop.Shop, opened time.Time) time.Time {
	date := shop.DateOf(opened.In(s.Location))
	until := Instant(s.Location, date.Add(1), 0)
	for n := -1; n <= 1; n++ { // the days that the rules of DayOf look at; one more begins too late to matter
		d := On(s, date.Add(n))
		_, usual := span(s.Location, d.Date, s.Weekly(d.Date))
		edges := []time.Time{d.Open, d.Open.Add(-beforeOpen), d.Open.Add(afterClose),
			d.Close, d.Close.Add(afterClose), usual}
		if next := On(s, d.Date.Add(1)); !next.Open.After(d.Close) { // it begins before this one ends, see ahead
			edges = append(edges, d.Close.Add(-beforeOpen))
		}
		for _, at := range edges {
			for _, edge := range []time.Time{at, at.Add(1)} { // some rules hold at it, some only after it
				if edge.After(opened) && edge.Before(until) {
					until = edge
				}
			}
		}
	}
	return until
}
