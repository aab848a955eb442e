package rota

import (
	"strings"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// untilSaid is how long, in days, a shop is closed of which nobody says until when: then
// somebody is asked for an opening again. Common practice, no source.
const untilSaid = 60

// SaysNoEnd reports whether somebody says that the shop is closed, and not until when.
func SaysNoEnd(t *telling.Teller, text string) bool {
	_, ok := closing(t, texts.Fold(text))
	return ok
}

// closing reads that the shop is closed, and that nobody knows until when: closed until further
// notice. It has a last day all the same, which is read back.
func closing(t *telling.Teller, text string) ([]shop.Change, bool) {
	bare := manner{t: t}
	s := " " + bare.bare(text) + " "
	found := false
	for _, end := range t.V.List("words.no-end") {
		if before, after, is := strings.Cut(s, " "+end+" "); is {
			s, found = before+" "+after, true
		}
	}
	s = strings.TrimSpace(s)
	from := t.Today()
	r := telling.Reader(t)
	for _, since := range r.Words.Since {
		before, after, is := strings.Cut(s, " "+since+" ")
		if day, why := r.Day(after, when.Ahead); is && why == when.OK {
			from, s = day, before
		}
	}
	if !found || !t.IsWord("closed", s) {
		return nil, false
	}
	return []shop.Change{{From: from, To: from.Add(untilSaid - 1), Closed: true}}, true
}

// reopening reads that a shop which was said to be closed trades again before the last day of
// that: we are open again, we reopen on monday. Public holidays stay as they are.
func reopening(t *telling.Teller, text string) (list []shop.Change, ok bool) {
	from, s := t.Today(), text
	if days, rest, why := telling.Reader(t).SomeDays(text); why == when.OK && len(days) == 1 {
		from, s = days[0].From, rest
	}
	bare := manner{t: t}
	if !t.IsWord("reopen", bare.bare(s)) {
		return nil, false
	}
	last := from.Add(-1)
	for _, c := range t.F.Shop.Plan.Changes {
		if c.Silences() && c.From < from && c.To >= from {
			last = max(last, c.To)
		}
	}
	plain := *t.F.Shop
	plain.Plan.Changes = nil
	for day := from; day <= last; day = day.Add(1) {
		if reminders.On(&plain, day).Closed == reminders.Public {
			continue
		}
		if n := len(list); n > 0 && list[n-1].To == day.Add(-1) {
			list[n-1].To = day
			continue
		}
		list = append(list, shop.Change{From: day, To: day, Usual: true})
	}
	return list, len(list) > 0
}
