package telling

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/stand"
)

func StandBlocks(t *Teller, s stand.Stand) []chat.Block {
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
		last = t.V.Say("proof.named", "money", t.V.Money(gap.Abs()), "what", t.V.Say("proof."+Sign(gap)))
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
