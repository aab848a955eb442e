package dialogs

import (
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

func floatCommand() command {
	return command{name: doFloat, rights: rights{access.Keeping, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: anyWords, run: (*talk).float}
}

// float shows where the money is, and that nothing of it is gone but what is
// named: float, float 30 november.
func (c *talk) float() {
	if c.hidden() {
		c.say(c.v.Say("hidden"))
		return
	}
	head, day, end := c.v.Say("proof.now"), c.today(), time.Time{}
	if c.rest != "" {
		from, to, rest := c.pastDays(strings.ToLower(c.rest))
		if rest != "" || from != to {
			c.say(c.v.Say("past.no-day", "near", c.rest))
			return
		}
		head, day, end = c.v.Say("proof.day", "day", c.dayYear(from)), from, c.endOf(from)
	}
	if !c.hasLedger() || len(c.f.Ask.Entries()) == 0 {
		c.say(c.v.Say("past.nothing"))
		return
	}
	if first := c.f.Ask.Entries()[0].Happened; !end.IsZero() && !end.After(first) {
		c.say(c.v.Say("proof.before", "day", c.dayYear(day), "first",
			c.dayYear(shop.DateOf(c.local(first)))))
		return
	}
	s, err := books.StandAt(c.m.ID, c.f.Ask.Entries(), end)
	if err != nil {
		c.say(c.v.Say("proof.cannot"))
		return
	}
	c.send(Reply{Body: append([]Block{text(head)}, c.standBlocks(s)...)})
}

func (c *talk) standBlocks(s books.Stand) []Block {
	row := func(id string, v decimal.Decimal) []string { return []string{c.v.Say(id), c.v.Money(v)} }
	there := [][]string{
		row("proof.inside", s.Inside), row("proof.cash", s.Cash), row("proof.till",
			s.Till), row("proof.bank", s.ByBank),
		row("owed.total", s.Sum()),
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
	last := c.v.Say("proof.holds")
	if gap := s.Sum().Sub(s.PutIn()); !gap.IsZero() {
		last = c.v.Say("proof.named", "money", c.v.Money(gap.Abs()), "what", c.v.Say("proof."+sign(gap)))
	}
	if !s.Missing().IsZero() {
		last = c.v.Say("proof.broken", "money", c.v.Money(s.Missing().Abs()))
	}
	note := ""
	if s.Open {
		note = c.v.Say("proof.open")
	}
	return []Block{columns(1, there), columns(1, put), text(last, note)}
}
