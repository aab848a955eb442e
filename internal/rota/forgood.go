package rota

import (
	"slices"
	"strings"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/when"
)

// forGood reads that the shop closes and does not open again: closing for good, we close for good
// on 31 december, last day is 31 december. A day that is said is the last one of trading, unless
// it is closed from then on.
func forGood(t *telling.Teller, text string) ([]shop.Change, bool) {
	if !begun(t, text, "for-good", "gives-up", "last-day") {
		return nil, false
	}
	bare := manner{t: t}
	s := bare.bare(text)
	from, dated := t.Today(), false
	if day, before, ok := since(t, s); ok {
		from, s, dated = day, before, true
	}
	if day, rest, ok := oneDay(t, s); ok && rest != s && !dated {
		from, s, dated = day.Add(1), rest, true
	}
	s = strings.TrimSuffix(bare.bare(s), " on")
	left := bare.without(s, "for-good")
	closes := func(s string) bool { return t.IsWord("closed", s) || t.IsWord("closes", s) || s == "" }
	switch {
	case t.IsWord("gives-up", s), dated && t.IsWord("last-day", s), left != s && closes(bare.bare(left)):
		return []shop.Change{{From: from, To: shop.ForGood, Closed: true}}, from >= t.Today()
	}
	return nil, false
}

// begun reports whether a text has the first word of what stands in one of some lists: what may
// stand in the middle of it, like a day, need not be read where there is no such word.
func begun(t *telling.Teller, text string, lists ...string) bool {
	said := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == '.' })
	return slices.ContainsFunc(lists, func(list string) bool {
		return slices.ContainsFunc(t.V.List("words."+list), func(phrase string) bool {
			first, _, _ := strings.Cut(phrase, " ")
			return slices.Contains(said, first)
		})
	})
}

// since reads from which day on something is said, and what stands before that.
func since(t *telling.Teller, s string) (from shop.Date, before string, ok bool) {
	r := telling.Reader(t)
	for _, word := range r.Words.Since {
		left, after, is := strings.Cut(s, " "+word+" ")
		if !is {
			continue
		}
		if day, why := r.Day(after, when.Ahead); why == when.OK {
			from, before, s, ok = day, left, left, true
		}
	}
	return from, before, ok
}

// isForGood reports whether a change closes the shop for good.
func isForGood(change shop.Change) bool { return change.Closed && change.To == shop.ForGood }

// Deciders are those who are asked whether a change that the speaker may not make is to be made,
// where that is not every manager: whether the shop closes for good is the owner's to say.
func Deciders(t *telling.Teller, change shop.Change) []shop.PersonID {
	if !isForGood(change) {
		return nil
	}
	return reminders.People(t.F.Shop, t.Today(), reminders.Summary, shop.Owners)
}

// Asked reads changes back before they are laid down.
func Asked(t *telling.Teller, all []shop.Change) []string {
	lines := []string{Words(t, "shift.", all)}
	if all[0].Silences() && t.M.Current() != nil && all[0].From <= t.Today() {
		lines = append(lines, t.V.Say("shift.still-open"))
	}
	switch {
	case May(t, all[0]):
	case isForGood(all[0]):
		lines = append(lines, t.V.Say("shift.asks-owner"))
	default:
		lines = append(lines, t.V.Say("shift.asks"))
	}
	return lines
}

// longChange is how many days a change may last without being asked back: a month typed wrongly
// or days the wrong way round reach into the next year. Common practice, no source.
const longChange = 62

// IsLong reports whether a change lasts so long that it is asked back, and for how many days.
func IsLong(change shop.Change) (days int64, long bool) {
	days = Days(change.From, change.To)
	return days, days > longChange && !isForGood(change) && change.Each == ""
}

// reopensForGood reports whether a shop was said to be closed for good on a day.
func reopensForGood(t *telling.Teller, day shop.Date) bool {
	return slices.ContainsFunc(t.F.Shop.Plan.Changes, func(c shop.Change) bool {
		return isForGood(c) && c.From <= day
	})
}
