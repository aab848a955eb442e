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
// The entries are those in force.
func takings(s *shop.Shop, entries []books.Entry) map[cashmath.Face]int64 {
	if len(entries) == 0 {
		return nil
	}
	latest := entries[len(entries)-1].Happened
	since := latest.Add(-takingDays * 24 * time.Hour)
	var sum books.Notes
	first := latest
	for _, e := range entries {
		if e.Happened.Before(since) {
			continue
		}
		first = earlier(first, e.Happened)
		for _, mv := range e.Moves {
			switch books.Till {
			case mv.From:
				sum.Plus(mv.Face, mv.Notes)
			case mv.To:
				sum.Plus(mv.Face, -mv.Notes)
			}
		}
	}
	days := int64(len(paying(s, shop.DateOf(first.In(s.Location)), shop.DateOf(latest.In(s.Location)))))
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
