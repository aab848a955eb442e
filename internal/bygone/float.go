package bygone

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/stand"
	"shopfloat/internal/telling"
)

// Float shows where the money is, and that nothing of it is gone but what is named; words
// may name machines and a day.
func Float(t *telling.Teller, words string) chat.Reply {
	say := func(text string) chat.Reply { return chat.Reply{Body: []chat.Block{{Text: text}}} }
	of, rest := t.Scope(words)
	head, day := t.V.Say("proof.now"), shop.Date("")
	if rest != "" {
		from, to, unread := telling.PastDays(t, strings.ToLower(rest))
		if unread != "" || from != to {
			return say(telling.NoDay(t, rest, "past.no-day"))
		}
		head, day = t.V.Say("proof.day", "day", t.DayYear(from)), from
	}
	for _, m := range of {
		if m.Hidden() && (day == "" || telling.SeenUntil(m, day) < day) {
			return say(telling.Counted(m))
		}
	}
	if !t.HasLedger() || t.M.Seq == 0 {
		return say(t.V.Say("past.nothing"))
	}
	if first, before := Before(t, day); before {
		return say(t.V.Say("proof.before", "day", t.DayYear(day), "first", t.DayYear(first)))
	}
	s, err := StandOf(of, day)
	if err != nil {
		return say(t.V.Say("proof.cannot"))
	}
	body := append([]chat.Block{chat.Lines(head)}, StandBlocks(t, s)...)
	return chat.Reply{Place: telling.Place(of), Body: body}
}

// StandOf works out where the money of machines is at the end of a day; an empty day
// is now. What the bank owes goes by the day that is told with it, notes by the time.
func StandOf(of []*telling.Teller, day shop.Date) (sum stand.Stand, err error) {
	for _, t := range of {
		var upTo func(books.Entry) bool
		if day != "" {
			end := EndOf(t, day)
			upTo = func(e books.Entry) bool {
				switch e.Kind {
				case books.Settlement, books.Credit, books.Debit, books.Matched, books.WriteOff:
					return DayOf(t, e) <= day
				}
				return e.Happened.Before(end)
			}
		}
		if day == "" {
			sum = sum.Add(stand.Now(t.M))
			continue
		}
		then, since := t.Lately(day)
		s, err := stand.On(then, since, upTo)
		if err != nil {
			return sum, err
		}
		sum = sum.Add(s)
	}
	return sum, nil
}

// Before reports whether a day was over before the first record, and of which day that is.
func Before(t *telling.Teller, day shop.Date) (first shop.Date, before bool) {
	if day == "" {
		return "", false
	}
	then, since := t.Lately(day)
	if then.Seq > 0 || len(since) == 0 {
		return "", false
	}
	at := since[0].Happened
	return shop.DateOf(t.Local(at)), !EndOf(t, day).After(at)
}

// StandBlocks tell where money is, what was put in, and what makes the two differ.
func StandBlocks(t *telling.Teller, s stand.Stand) []chat.Block {
	row := func(id string, v decimal.Decimal) []string { return []string{t.V.Say(id), t.V.Money(v)} }
	there := [][]string{
		row("proof.inside", s.Inside), row("proof.cash", s.Cash), row("proof.till", s.Till),
		row("proof.bank", s.ByBank), row("owed.total", s.Sum()),
	}
	put := [][]string{row("proof.taken", s.Taken)}
	if !s.Brought.IsZero() {
		put = append(put, row("proof.brought", s.Brought))
	}
	if !s.Came.IsZero() {
		put = append(put, row("proof.came", s.Came.Neg()))
	}
	put = append(put, row("proof.put-in", s.PutIn()))
	for _, g := range s.Gaps {
		put = append(put, row("gap."+string(g.Why), g.Value))
	}
	last := t.V.Say("proof.holds")
	if gap := s.Sum().Sub(s.PutIn()); !gap.IsZero() {
		last = t.V.Say("proof.named", "money", t.V.Money(gap.Abs()), "what", t.V.Say("proof."+telling.Sign(gap)))
	}
	if !s.Missing().IsZero() {
		last = t.V.Say("proof.broken", "money", t.V.Money(s.Missing().Abs()))
	}
	note := ""
	if s.Open {
		note = t.V.Say("proof.open")
	}
	return []chat.Block{chat.Columns(1, there), chat.Columns(1, put), chat.Lines(last, note)}
}
