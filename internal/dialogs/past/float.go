package past

import (
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
)

// FloatCommand shows where the money is.
func FloatCommand() engine.Command { return looksBack(engine.DoFloat, float) }

// float shows where the money is, and that nothing of it is gone but what is
// named: float, float 30 november.
func float(c *engine.Talk) {
	if c.Hidden() {
		c.Say(c.V.Say("hidden"))
		return
	}
	head, day, end := c.V.Say("proof.now"), c.Today(), time.Time{}
	if c.Rest != "" {
		from, to, rest := trade.PastDays(c, strings.ToLower(c.Rest))
		if rest != "" || from != to {
			c.Say(c.V.Say("past.no-day", "near", c.Rest))
			return
		}
		head, day, end = c.V.Say("proof.day", "day", ask.DayYear(c, from)), from, endOf(c, from)
	}
	if !trade.HasLedger(c) || len(c.F.Ask.Entries()) == 0 {
		c.Say(c.V.Say("past.nothing"))
		return
	}
	if first := c.F.Ask.Entries()[0].Happened; !end.IsZero() && !end.After(first) {
		c.Say(c.V.Say("proof.before", "day", ask.DayYear(c, day), "first",
			ask.DayYear(c, shop.DateOf(c.Local(first)))))
		return
	}
	s, err := books.StandAt(c.M.ID, c.F.Ask.Entries(), end)
	if err != nil {
		c.Say(c.V.Say("proof.cannot"))
		return
	}
	c.Send(chat.Reply{Body: append([]chat.Block{engine.Text(head)}, standBlocks(c, s)...)})
}

func standBlocks(c *engine.Talk, s books.Stand) []chat.Block {
	row := func(id string, v decimal.Decimal) []string { return []string{c.V.Say(id), c.V.Money(v)} }
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
	last := c.V.Say("proof.holds")
	if gap := s.Sum().Sub(s.PutIn()); !gap.IsZero() {
		last = c.V.Say("proof.named", "money", c.V.Money(gap.Abs()), "what", c.V.Say("proof."+trade.Sign(gap)))
	}
	if !s.Missing().IsZero() {
		last = c.V.Say("proof.broken", "money", c.V.Money(s.Missing().Abs()))
	}
	note := ""
	if s.Open {
		note = c.V.Say("proof.open")
	}
	return []chat.Block{engine.Columns(1, there), engine.Columns(1, put), engine.Text(last, note)}
}
