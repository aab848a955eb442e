package advice

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// takingDays is how far back moves tell what the tills usually bring.
const takingDays = 56

// takings learns from moves what the tills bring a trading day, by kind: notes
// brought from a till less those that went there. None is less than nothing.
func (s State) takings(of *shop.Shop) map[cashmath.Face]int64 {
	latest := s.Newest()
	for _, b := range s.Tills {
		latest = later(latest, b.At)
	}
	since, first := latest.Add(-takingDays*oneDay), latest
	for _, c := range s.Days {
		if !c.Opened.Before(since) {
			first = earlier(first, c.Opened)
		}
	}
	var sum books.Notes
	for _, b := range s.Tills {
		if !b.At.Before(since) {
			first = earlier(first, b.At)
			sum.Plus(b.Face, b.Notes)
		}
	}
	days := int64(len(paying(of, shop.DateOf(first.In(of.Location)), shop.DateOf(latest.In(of.Location)))))
	usual := map[cashmath.Face]int64{}
	for face, notes := range sum {
		if n := notes / max(days, 1); n > 0 {
			usual[face] = n
		}
	}
	return usual
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}
