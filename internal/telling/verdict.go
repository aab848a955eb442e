package telling

import (
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/shop"
)

// Causes lists the best explanations of a period's difference; none where it
// balances, where nothing fits, and where the figures are not complete.
func Causes(t *Teller, p *books.Period) []diagnosis.Cause {
	if p.TotalOnly() || p.Has(books.Unsettled) || p.Has(books.NoTray) {
		return nil
	}
	list := slices.DeleteFunc(diagnosis.Explain(Evidence(t, p)), func(c diagnosis.Cause) bool {
		return c.Slips[0].ID == diagnosis.Unexplained // what to look at then is said without it
	})
	if len(list) == 0 || list[0].Slips[0].ID == diagnosis.KeyBeside {
		return nil
	}
	calmFirst(list)
	return list[:min(len(list), maxCauses)]
}

// calmFirst puts an exact exchange of what was typed before notes in each other's box,
// which looks just the same: it is mended with one tap, and nobody need stop the machine.
func calmFirst(list []diagnosis.Cause) {
	at := func(id diagnosis.ID) int {
		return slices.IndexFunc(list, func(c diagnosis.Cause) bool {
			return len(c.Slips) == 1 && c.Slips[0].ID == id
		})
	}
	alarm, calm := at(diagnosis.CassettesExchanged), at(diagnosis.LinesExchanged)
	if alarm >= 0 && alarm < calm {
		list[alarm], list[calm] = list[calm], list[alarm]
	}
}

// causeLines word the explanations, the best first.
func causeLines(t *Teller, p *books.Period) []string {
	var lines []string
	for i, cause := range Causes(t, p) {
		id := "cause-first"
		if i > 0 {
			id = "cause-or"
		}
		lines = append(lines, t.V.Say(id, "what", causeWord(t, p, cause)))
	}
	return lines
}

func causeWord(t *Teller, p *books.Period, cause diagnosis.Cause) string {
	words := make([]string, len(cause.Slips))
	for i, s := range cause.Slips {
		words[i] = slip(t, p, s)
	}
	return strings.Join(words, " "+t.V.Say("cause-and")+" ")
}

// twiceLine says that printed figures are probably in twice; empty: nothing speaks for it.
func twiceLine(t *Teller, p *books.Period) string {
	list := Twice(t, p)
	if len(list) == 0 {
		return ""
	}
	what := t.V.Say("cause.slip-twice", "slips", strings.Join(SlipNames(t, list), "; "))
	line := t.V.Say("cause-first", "what", what)
	if below(p) {
		line = t.V.Say("should-below") + " " + line
	}
	return line
}

// Verdict says whether a period balances, in lines that never blame.
func Verdict(t *Teller, p *books.Period) []chat.Block {
	return append(Outcome(t, p, "verdict.head"), chat.Lines(dueLines(t, p)))
}

// Outcome is the verdict without what the bank should pay.
func Outcome(t *Teller, p *books.Period, head string) []chat.Block {
	if p.TotalOnly() {
		word, variance := p.Balances()
		return []chat.Block{chat.Lines(t.V.Say(head)), chat.Lines(Total(t, p, word, variance),
			t.V.Say("verdict.total-only"), placed(t, p, variance), twiceLine(t, p))}
	}
	r := cashmath.Reconcile(p.Day())
	if Even(p) { // a table of figures that agree says nothing that the word does not
		if head == "verdict.head" {
			head = ""
		} else {
			head = t.V.Say(head)
		}
		return []chat.Block{chat.Lines(head, t.V.Say("verdict.even"), placed(t, p, r.TotalVariance))}
	}
	body := []chat.Block{chat.Lines(t.V.Say(head)), verdictTable(t, r, !p.Has(books.Unsettled))}
	lines := append([]string{Total(t, p, r.Verdict, r.TotalVariance)}, likely(t, p)...)
	if len(lines) == 1 {
		lines = append(lines, lookFirst(t, p, r))
	}
	return append(body, chat.Lines(append(lines, placed(t, p, r.TotalVariance))...))
}

// Even reports whether everything is there, of every kind, as far as the slip tells.
func Even(p *books.Period) bool {
	if p.Has(books.Unsettled) {
		return false
	}
	if p.TotalOnly() {
		word, _ := p.Balances()
		return word == cashmath.Balanced
	}
	for _, l := range cashmath.Reconcile(p.Day()).Lines {
		if l.VarianceNotes != 0 {
			return false
		}
	}
	return true
}

// likely says what the difference probably is: figures typed twice, before anything else.
func likely(t *Teller, p *books.Period) []string {
	if line := twiceLine(t, p); line != "" {
		return []string{line}
	}
	return causeLines(t, p)
}

// dueLines says what the bank should pay, for each slip apart: each is credited by itself.
func dueLines(t *Teller, p *books.Period) string {
	var parts []string
	for _, s := range p.Slips {
		if s.Due.IsPositive() {
			parts = append(parts, t.V.Money(s.Due))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return t.V.Say("verdict.due", "money", Least(t, p.Has(books.Unsettled), strings.Join(parts, " + ")))
}

// verdictTable lines up what should be there and what was counted; without
// differences where what should be there is not known.
func verdictTable(t *Teller, r cashmath.Result, known bool) chat.Block {
	rows := [][]string{{"", t.V.Say("col.expected"), t.V.Say("col.counted"), ""}}
	for _, l := range inBoxOrder(t, r.Lines) {
		row := []string{t.V.Kind(l.Face), "?", t.V.Number(l.Counted), ""}
		if known {
			row[1], row[3] = t.V.Number(l.Expected), differs(t, l.VarianceNotes)
		}
		rows = append(rows, row)
	}
	return chat.Columns(1, rows)
}

// inBoxOrder puts kinds of note in the order in which they are asked: from the top box down.
func inBoxOrder(t *Teller, list []cashmath.Line) []cashmath.Line {
	if t.Kit == nil {
		return list
	}
	at := func(l cashmath.Line) int {
		return slices.IndexFunc(t.Kit.Boxes, func(b shop.Box) bool { return b.Face == l.Face })
	}
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b cashmath.Line) int { return at(a) - at(b) })
	return list
}

// differs words a difference in notes: 9 missing, 1 too many.
func differs(t *Teller, n int64) string {
	switch {
	case n < 0:
		return t.V.Say("missing", "n", t.V.Number(-n))
	case n > 0:
		return t.V.Say("too-many", "n", t.V.Number(n))
	}
	return ""
}

// Total words whether a period balances and by how much it does not.
func Total(t *Teller, p *books.Period, word cashmath.Verdict, variance decimal.Decimal) string {
	switch {
	case p.Has(books.Unsettled):
		return t.V.Say("verdict.incomplete")
	case p.Has(books.NoTray) && word != cashmath.Balanced:
		return t.V.Say("verdict.no-tray")
	}
	return t.V.Say("verdict."+string(word), "money", t.V.Money(variance.Abs()))
}

// lookFirst says where to look before anything else.
func lookFirst(t *Teller, p *books.Period, r cashmath.Result) string {
	if r.Verdict == cashmath.Balanced || p.Has(books.Unsettled) {
		return ""
	}
	if len(p.Tray) == 0 && r.Verdict == cashmath.Short {
		return t.V.Say("look.tray")
	}
	return t.V.Say("look.count")
}

// placed says what part of a period's difference arose before, during and after
// the engineers' visits in it.
func placed(t *Teller, p *books.Period, total decimal.Decimal) string {
	var lines []string
	for _, v := range t.M.Calls {
		if v.Period != p.No || v.Ended.IsZero() || total.IsZero() && v.Change.Value().IsZero() {
			continue
		}
		fill := []any{"when", t.Clock(v.Began), "during", signedMoney(t, v.Change.Value())}
		switch {
		case !v.Known:
			lines = append(lines, t.V.Say("placed-unknown", "when", t.Clock(v.Began)))
		case v.Earlier == nil:
			lines = append(lines, t.V.Say("placed-during", append(fill, "rest",
				signedMoney(t, total.Sub(v.Change.Value())))...))
		default:
			rest := total.Sub(v.Change.Value()).Sub(*v.Earlier)
			lines = append(lines, t.V.Say("placed", append(fill, "before", signedMoney(t, *v.Earlier), "after",
				signedMoney(t, rest))...))
		}
	}
	return chat.Lines(lines...).Text
}

// signedMoney words a difference: €20 missing, €20 too much, nothing.
func signedMoney(t *Teller, d decimal.Decimal) string {
	switch d.Sign() {
	case 0:
		return t.V.Say("difference.none")
	case -1:
		return t.V.Say("difference.missing", "money", t.V.Money(d.Neg()))
	}
	return t.V.Say("difference.over", "money", t.V.Money(d))
}

// Difference tells managers of a close that does not balance.
func Difference(t *Teller, p *books.Period) []chat.Block {
	return append([]chat.Block{chat.Lines(t.V.Say("told.difference", "who", t.Name(p.EndedBy),
		"day", t.V.Day(t.Local(p.Opened))))}, Verdict(t, p)...)
}

// Beyond reports whether a period's difference is more than the shop lets pass.
func Beyond(t *Teller, p *books.Period) bool {
	if p.Verdict == books.NotComplete {
		return true // a manager has to know, and may know the rest
	}
	if p.TotalOnly() {
		var allowed decimal.Decimal
		for _, passes := range t.F.Shop.Tolerance {
			allowed = allowed.Add(cashmath.Value(passes.Face, passes.Notes))
		}
		return p.Variance.Abs().GreaterThan(allowed)
	}
	for f, n := range p.ByFace {
		if max(n, -n) > t.F.Shop.Allowed(f) {
			return true
		}
	}
	return false
}
