package rota

import (
	"strings"

	"shopfloat/internal/counts"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// untilSaid is how long, in days, a shop is closed of which nobody says until when: then
// somebody is asked for an opening again. Common practice, no source.
const untilSaid = 60

// SaysNoEnd reports whether somebody says, in the words of other commands, that the shop is closed,
// for good or not until when, or open for some hours of a day; or of hours too little to go by.
func SaysNoEnd(t *telling.Teller, text string) bool {
	low := texts.Fold(text)
	if _, ok := closing(t, low); ok || Unsaid(t, low) != "" {
		return true
	}
	verb, rest, _ := strings.Cut(low, " ")
	if !t.IsWord("opens", verb) || !strings.ContainsAny(rest, "0123456789") {
		return false
	}
	if Counts(rest) {
		return false
	}
	if _, _, why := telling.Reader(t).SomeDays(rest); why != when.OK { // open sunday 11 january 12-5 is no count
		return false
	}
	_, ok := Said(t, low)
	return ok
}

// Counts reports whether a text is three bare numbers and nothing else but a word before them: these
// are notes of three boxes, and neither hours nor days.
func Counts(text string) bool {
	words := strings.Fields(text)
	if len(words) == 4 && !strings.ContainsAny(words[0], "0123456789") {
		words = words[1:]
	}
	return len(words) == 3 && counts.Digits(words[0]) && counts.Digits(words[1]) && counts.Digits(words[2])
}

// closing reads that the shop is closed, and that nobody knows until when: closed until further
// notice. It has a last day all the same, which is read back.
func closing(t *telling.Teller, text string) ([]shop.Change, bool) {
	if list, ok := forGood(t, text); ok {
		return list, true
	}
	bare := manner{t: t}
	s := " " + bare.bare(text) + " "
	found := false
	for _, end := range t.V.List("words.no-end") {
		if before, after, is := strings.Cut(s, " "+end+" "); is {
			s, found = before+" "+after, true
		}
	}
	if !found {
		return nil, false
	}
	s = strings.TrimSpace(s)
	from := t.Today()
	if day, before, ok := since(t, s); ok {
		from, s = day, before
	}
	if !t.IsWord("closed", s) {
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
	if reopensForGood(t, from) {
		return []shop.Change{{From: from, To: from, Usual: true}}, true
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
