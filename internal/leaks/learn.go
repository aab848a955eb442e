package leaks

import (
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Learn lists the closed days of a machine whose differences are known by kind of
// note, oldest first. What was corrected later counts as corrected: an explained
// difference is none.
func Learn(s *shop.Shop, id shop.MachineID, entries []books.Entry) ([]Day, error) {
	return LearnOn(s, books.New(id), entries)
}

// LearnOn is Learn from books on that stood before these entries.
func LearnOn(s *shop.Shop, then *books.Machine, entries []books.Entry) ([]Day, error) {
	var list []Day
	days := reminders.NewDays(s)
	err := books.EndedOn(then, entries, func(p *books.Period) {
		if p.TotalOnly() || p.Has(books.Unsettled) || len(p.Slips) == 0 {
			return
		}
		d := Day{Date: days.DayOf(p.Opened), By: p.CountedBy, Notes: map[cashmath.Face]int64{}}
		for _, b := range p.Boxes {
			d.Notes[b.Face] = p.ByFace[b.Face]
		}
		list = append(list, d)
	})
	return list, err
}
