package telling

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// What nobody may see while a machine is counted is the period that is counted and what
// came after it. Days before it, and what the bank owes for them, tell nothing of it.

// Blinds reports whether somebody's work hides figures: a count of a period that was closed, or loaded
// again, since can be booked no more.
func Blinds(m *books.Machine, a chat.Activity) bool {
	p := m.Period(a.Period)
	return a.Blind && (a.Period == 0 || p != nil && p.Status != books.Closed && !p.Taken)
}

// unseen are the periods that may be the one that is counted, the oldest first.
func unseen(t *Teller) []*books.Period {
	if !t.Hidden() {
		return nil
	}
	cur := t.M.Current()
	counts := func(a chat.Activity) bool { return Blinds(t.M, a) && countsAgain[a.Flow] }
	again := slices.ContainsFunc(t.F.Others, counts)
	if cur != nil && len(t.F.Others) > 0 && !again {
		return []*books.Period{cur}
	}
	list := t.M.Pending()
	if cur != nil {
		list = append(list, cur)
	}
	return list
}

// countsAgain are dialogs that count what was counted before.
var countsAgain = map[string]bool{"finish": true, "second": true}

// UnseenFrom is the first day of which nobody may see figures now; empty: there is none.
func UnseenFrom(t *Teller) shop.Date {
	if !t.Hidden() {
		return ""
	}
	first := t.Today()
	for _, p := range unseen(t) {
		first = min(first, t.DayOf(p))
	}
	return first
}

// SeenUntil is the last day of a span up to one of which figures may be seen now.
func SeenUntil(t *Teller, to shop.Date) shop.Date {
	if first := UnseenFrom(t); first != "" && to >= first {
		return first.Add(-1)
	}
	return to
}

// unseenRecord reports whether the figures of a record stay unseen: of what is counted,
// and of what belongs to no period and came since then.
func unseenRecord(t *Teller, b books.Brief) bool {
	if b.Period == 0 {
		first := UnseenFrom(t)
		return first != "" && reminders.Today(t.F.Shop, b.Happened) >= first
	}
	return slices.ContainsFunc(unseen(t), func(p *books.Period) bool { return p.No == b.Period })
}

// Counted says which day is being counted, by whom and since when.
func Counted(t *Teller) string {
	if list := unseen(t); len(list) > 0 {
		day := t.DayYear(t.DayOf(list[len(list)-1]))
		for _, a := range t.F.Others {
			if Blinds(t.M, a) {
				return t.V.Say("being-counted", "day", day, "who", t.Name(a.Person), "when", t.Clock(a.Since))
			}
		}
	}
	return t.V.Say("hidden")
}

// Settled tells of the same machine without claims of what is being counted.
func Settled(t *Teller) *Teller {
	if !t.Hidden() {
		return t
	}
	o, m := *t, *t.M
	o.unseen = nil
	for _, p := range unseen(t) {
		o.unseen = append(o.unseen, p.No)
	}
	m.Claims = slices.DeleteFunc(slices.Clone(m.Claims), o.covered)
	o.M = &m
	return &o
}
