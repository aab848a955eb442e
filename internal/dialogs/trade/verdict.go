package trade

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// Causes lists the best explanations of a period's difference; none where it
// balances, where nothing fits, and where the figures are not complete.
func Causes(c *engine.Talk, p *books.Period) []diagnosis.Cause {
	if p.TotalOnly() || p.Has(books.Unsettled) || p.Has(books.NoTray) {
		return nil
	}
	list := diagnosis.Explain(Evidence(c, p))
	if len(list) == 0 || list[0].Slips[0].ID == diagnosis.Unexplained {
		return nil
	}
	return list[:min(len(list), maxCauses)]
}

// causeLines word the explanations, the best first.
func causeLines(c *engine.Talk, p *books.Period) []string {
	var lines []string
	for i, cause := range Causes(c, p) {
		id := "cause-first"
		if i > 0 {
			id = "cause-or"
		}
		lines = append(lines, c.V.Say(id, "what", causeWord(c, p, cause)))
	}
	return lines
}

func causeWord(c *engine.Talk, p *books.Period, cause diagnosis.Cause) string {
	words := make([]string, len(cause.Slips))
	for i, s := range cause.Slips {
		words[i] = slip(c, p, s)
	}
	return strings.Join(words, " "+c.V.Say("cause-and")+" ")
}

// Knew reports whether the difference of a period has been known before, so
// that a count is not blind: it was counted again, its result was shown here or
// where its count was taken back, or its close was undone.
func Knew(c *engine.Talk, p *books.Period) bool {
	return Saw(c, p) || slices.ContainsFunc(c.M.Recent, func(b books.Brief) bool {
		return b.Period == p.No && (b.Kind == books.Close || slices.Contains(b.Marks, books.NotBlind))
	})
}

// Saw reports whether a period's result was shown in this chat.
func Saw(c *engine.Talk, p *books.Period) bool { return c.State.Seen[c.M.ID] == p.No }

// Shown remembers in the chat that a period's result was shown.
func Shown(c *engine.Talk, p *books.Period) {
	if c.State.Seen == nil {
		c.State.Seen = map[shop.MachineID]int64{}
	}
	c.State.Seen[c.M.ID] = p.No
}

// twiceLines say that printed figures are probably in twice.
func twiceLines(c *engine.Talk, p *books.Period) []string {
	list := Twice(c, p)
	if len(list) == 0 {
		return nil
	}
	what := c.V.Say("cause.slip-twice", "slips", strings.Join(SlipNames(c, list), "; "))
	lines := []string{c.V.Say("cause-first", "what", what)}
	if below(p) {
		lines = append([]string{c.V.Say("should-below")}, lines...)
	}
	return lines
}

// Verdict says whether a period balances, in lines that never blame.
func Verdict(c *engine.Talk, p *books.Period) []chat.Block {
	return append(Outcome(c, p, "verdict.head"), engine.Text(dues(c, p)))
}

// Outcome is the verdict without what the bank should pay.
func Outcome(c *engine.Talk, p *books.Period, head string) []chat.Block {
	if p.TotalOnly() {
		word, variance := p.Balances()
		return []chat.Block{engine.Text(c.V.Say(head)), engine.Text(append([]string{Total(c, p, word, variance),
			c.V.Say("verdict.total-only"), placed(c, p, variance)}, twiceLines(c, p)...)...)}
	}
	r := cashmath.Reconcile(p.Day())
	body := []chat.Block{engine.Text(c.V.Say(head)), verdictTable(c, r, !p.Has(books.Unsettled))}
	lines := append([]string{Total(c, p, r.Verdict, r.TotalVariance)}, likely(c, p)...)
	if len(lines) == 1 {
		lines = append(lines, lookFirst(c, p, r))
	}
	return append(body, engine.Text(append(lines, placed(c, p, r.TotalVariance))...))
}

// likely says what the difference probably is: figures typed twice, before anything else.
func likely(c *engine.Talk, p *books.Period) []string {
	if lines := twiceLines(c, p); len(lines) > 0 {
		return lines
	}
	return causeLines(c, p)
}

// dues says what the bank should pay, for each slip apart: each is credited by itself.
func dues(c *engine.Talk, p *books.Period) string {
	var parts []string
	for _, s := range p.Slips {
		if s.Due.IsPositive() {
			parts = append(parts, c.V.Money(s.Due))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return c.V.Say("verdict.due", "money", Least(c, p.Has(books.Unsettled), strings.Join(parts, " + ")))
}

// verdictTable lines up what should be there and what was counted; without
// differences where what should be there is not known.
func verdictTable(c *engine.Talk, r cashmath.Result, known bool) chat.Block {
	rows := [][]string{{"", c.V.Say("col.expected"), c.V.Say("col.counted"), ""}}
	for _, l := range r.Lines {
		row := []string{c.V.Kind(l.Face), "?", c.V.Number(l.Counted), ""}
		if known {
			row[1], row[3] = c.V.Number(l.Expected), differs(c, l.VarianceNotes)
		}
		rows = append(rows, row)
	}
	return engine.Columns(1, rows)
}

// differs words a difference in notes: 9 missing, 1 too many.
func differs(c *engine.Talk, n int64) string {
	switch {
	case n < 0:
		return c.V.Say("missing", "n", c.V.Number(-n))
	case n > 0:
		return c.V.Say("too-many", "n", c.V.Number(n))
	}
	return ""
}

// Total words whether a period balances and by how much it does not.
func Total(c *engine.Talk, p *books.Period, word cashmath.Verdict, variance decimal.Decimal) string {
	switch {
	case p.Has(books.Unsettled):
		return c.V.Say("verdict.incomplete")
	case p.Has(books.NoTray) && word != cashmath.Balanced:
		return c.V.Say("verdict.no-tray")
	}
	return c.V.Say("verdict."+string(word), "money", c.V.Money(variance.Abs()))
}

// lookFirst says where to look before anything else.
func lookFirst(c *engine.Talk, p *books.Period, r cashmath.Result) string {
	if r.Verdict == cashmath.Balanced || p.Has(books.Unsettled) {
		return ""
	}
	if len(p.Tray) == 0 && r.Verdict == cashmath.Short {
		return c.V.Say("look.tray")
	}
	return c.V.Say("look.count")
}

// placed says what part of a period's difference arose before, during and after
// the engineers' visits in it.
func placed(c *engine.Talk, p *books.Period, total decimal.Decimal) string {
	var lines []string
	for _, v := range c.M.Calls {
		if v.Period != p.No || v.Ended.IsZero() || total.IsZero() && v.Change.Value().IsZero() {
			continue
		}
		fill := []any{"when", c.Clock(v.Began), "during", signedMoney(c, v.Change.Value())}
		switch {
		case !v.Known:
			lines = append(lines, c.V.Say("placed-unknown", "when", c.Clock(v.Began)))
		case v.Earlier == nil:
			lines = append(lines, c.V.Say("placed-during", append(fill, "rest",
				signedMoney(c, total.Sub(v.Change.Value())))...))
		default:
			rest := total.Sub(v.Change.Value()).Sub(*v.Earlier)
			lines = append(lines, c.V.Say("placed", append(fill, "before", signedMoney(c, *v.Earlier), "after",
				signedMoney(c, rest))...))
		}
	}
	return engine.Text(lines...).Text
}

// signedMoney words a difference: €20 missing, €20 too much, nothing.
func signedMoney(c *engine.Talk, d decimal.Decimal) string {
	switch d.Sign() {
	case 0:
		return c.V.Say("difference.none")
	case -1:
		return c.V.Say("difference.missing", "money", c.V.Money(d.Neg()))
	}
	return c.V.Say("difference.over", "money", c.V.Money(d))
}
