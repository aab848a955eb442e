package months

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// reach gives for each entry the first day whose figures it may change: its own, or that of
// what it is about. What changes a day may change the days behind it, never one before.
func reach(entries []books.Entry, local func(time.Time) shop.Date) map[int64]shop.Date {
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
	of := []int64{r.Target, r.Period}
	for _, p := range r.Parts {
		of = append(of, p.Of)
	}
	for _, seq := range of {
		if d, known := first[seq]; known {
			day = min(day, d)
		}
	}
	return day
}
