package firstdays

import (
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Of works out the days of entries that say none, each by the rule of its
// time. A slip was printed at the count, however late it was typed in.
func Of(entries []books.Entry, rule func(books.Entry) Rule) books.DaysOf {
	days, of := books.DaysOf{}, map[int64]shop.Date{}
	give := func(e books.Entry, day shop.Date) {
		if _, had := of[e.Seq]; had || e.Day != "" {
			return
		}
		of[e.Seq] = day
		days[day] = append(days[day], e.Seq)
	}
	valid := books.InForce(entries)
	counted := map[int64]time.Time{}
	for _, e := range valid {
		switch e.Kind {
		case books.Opening:
			give(e, rule(e).Opened(e.Happened))
		case books.Count:
			counted[e.Period] = e.Happened
		}
	}
	for _, e := range slices.Concat(valid, entries) { // those that do not hold too: history shows them
		switch {
		case !books.Daily(e.Kind):
		case e.Kind == books.Opening:
			give(e, rule(e).Opened(e.Happened))
		case e.Kind == books.Settlement:
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
func Retold(entries []books.Entry, days, was books.DaysOf) map[shop.Date]shop.Date {
	is, before, list := days.BySeq(), was.BySeq(), map[shop.Date]shop.Date{}
	for _, e := range books.InForce(entries) {
		old := before[e.Seq]
		switch e.Kind {
		case books.Settlement:
			old = before[e.Period]
		case books.Opening:
		default:
			continue
		}
		if now := is[e.Seq]; now != "" && now != old {
			list[now] = old
		}
	}
	return list
}

// Moved lists the days that are told otherwise since an entry gave all records of
// before their days, with the days under which a shop told them until then.
func Moved(entries []books.Entry, s *shop.Shop) map[shop.Date]shop.Date {
	for i, e := range entries {
		if e.Kind == books.Dated {
			until, rule := entries[:i], RuleOf(s)
			return Retold(until, e.Days, Of(until, func(books.Entry) Rule { return rule }))
		}
	}
	return nil
}
