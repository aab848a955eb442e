package closing

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/telling"
)

// mend gives the changes that an explanation stands for; none when it is
// nothing that can be typed: notes to look for, or a call to make.
func mend(c *engine.Talk, p *books.Period, cause diagnosis.Cause) []diagnosis.Change {
	list := diagnosis.Mend(telling.Evidence(c.Teller, p).Day, cause)
	stays := func(x diagnosis.Change) bool { return !canChange(c, p, x) }
	if p.Taken && !c.HasLedger() || slices.ContainsFunc(list, stays) {
		return nil
	}
	return list
}

// canChange reports whether a figure is one that a person gave, in one box and
// in one record.
func canChange(c *engine.Talk, p *books.Period, x diagnosis.Change) bool {
	boxes := 0
	for _, b := range p.Boxes {
		if b.Face == x.Face {
			boxes++
		}
	}
	switch x.Field {
	case diagnosis.Remaining:
		return boxes == 1
	case diagnosis.Loaded:
		return boxes == 1 && c.HasLedger()
	case diagnosis.Topups:
		lots := telling.LotsOf(c.Teller, p)
		return boxes == 1 && c.HasLedger() && x.Lot < len(lots) && lots[x.Lot].Seq != 0
	case diagnosis.Dispensed, diagnosis.Reversed:
		return !kept(c).NoMore && len(ask.Target(c).Slips) == 0 && c.Counted("last-seen") == nil &&
			lineOf(c, x.Face) >= 0
	}
	return true
}

// fixButtons offer to correct what an explanation says was typed wrongly.
func fixButtons(c *engine.Talk, p *books.Period) [][]chat.Button {
	var rows [][]chat.Button
	for i, cause := range telling.Causes(c.Teller, p) {
		switch list := mend(c, p, cause); {
		case len(list) > 0:
			rows = append(rows, []chat.Button{{Label: c.V.Say("button.fix", "what", changeWord(c, list[0])),
				Data: "fix-" + strconv.Itoa(i)}})
		case cause.Slips[0].ID == diagnosis.RejectsMissed && !p.Taken:
			rows = append(rows, c.Button("count-tray", "count-tray"))
		}
	}
	return rows
}

// changeWord names a figure that would be another one: 20s: 61.
func changeWord(c *engine.Talk, x diagnosis.Change) string {
	return c.V.Say("change", "kind", c.V.Kind(x.Face), "to", c.V.Number(x.To))
}

// tapFix shows what a correction would change.
func tapFix(c *engine.Talk, choice string) bool {
	p, err := preview(c)
	n, found := strings.CutPrefix(choice, "fix-")
	i, bad := strconv.Atoi(n)
	if err != nil || !found || bad != nil || i < 0 || i >= len(telling.Causes(c.Teller, p)) {
		return false
	}
	kept(c).Fix = i + 1
	c.GoTo("fix")
	return true
}

// fixes are the changes that were chosen, or none any more.
func fixes(c *engine.Talk) (*books.Period, []diagnosis.Change) {
	p, err := preview(c)
	i := kept(c).Fix - 1
	if err != nil || i < 0 {
		return p, nil
	}
	if causes := telling.Causes(c.Teller, p); i < len(causes) {
		return p, mend(c, p, causes[i])
	}
	return p, nil
}

func readFix(c *engine.Talk) []chat.Block {
	_, list := fixes(c)
	if len(list) == 0 {
		c.GoTo("verdict")
		return nil
	}
	var rows [][]string
	for _, x := range list {
		rows = append(rows, []string{c.V.Kind(x.Face), telling.FieldWord(c.Teller, x.Field), c.V.Number(x.From),
			"→", c.V.Number(x.To)})
	}
	note := ""
	if slices.ContainsFunc(list, diagnosis.Change.Counted) {
		note = c.V.Say("fix.not-blind")
	}
	return []chat.Block{chat.Lines(c.V.Say("fix")), chat.Columns(2, rows),
		chat.Lines(c.V.Say("fix.then"), note)}
}

// bookFix carries the changes out and shows the result anew.
func bookFix(c *engine.Talk) {
	p, list := fixes(c)
	kept(c).Fix = 0
	c.GoTo("verdict")
	fixDraft(c, list)
	for _, r := range fixRecords(c, p, list) {
		if err := write(c, r); err != nil {
			c.Refuse(err)
			return
		}
		if r.Kind == books.Correction {
			trade.TellCorrected(c, r)
		}
	}
	if len(list) > 0 {
		c.First(c.V.Say("fix.done", "when", c.Clock(c.In.At)))
	}
}

// write records one record, a correction as such.
func write(c *engine.Talk, r books.Record) error {
	if r.Kind == books.Correction {
		return trade.Correct(c, r)
	}
	_, err := c.Record(r)
	return err
}

// fixDraft changes printed figures that are in no record yet.
func fixDraft(c *engine.Talk, list []diagnosis.Change) {
	for _, x := range list {
		q := paidQuestion
		switch x.Field {
		case diagnosis.Dispensed:
		case diagnosis.Reversed:
			q = backQuestion
		default:
			continue
		}
		i := lineOf(c, x.Face)
		q.Values(c)[i] = x.To
		q.Accept(c, i, x.To)
	}
}

// lineOf is where a kind of note stands among the printed figures; -1 for nowhere.
func lineOf(c *engine.Talk, face cashmath.Face) int {
	return slices.IndexFunc(ask.KindLines(c), func(l ask.Line) bool { return l.Face == face })
}

// fixRecords makes the records: a new count, and corrections of an opening or a top-up.
func fixRecords(c *engine.Talk, p *books.Period, list []diagnosis.Change) []books.Record {
	var records []books.Record
	if slices.ContainsFunc(list, diagnosis.Change.Counted) {
		records = append(records, fixCount(c, p, list))
	}
	lots := telling.LotsOf(c.Teller, p)
	targets := map[int64][]diagnosis.Change{}
	for _, x := range list {
		switch x.Field {
		case diagnosis.Loaded:
			targets[p.No] = append(targets[p.No], x)
		case diagnosis.Topups:
			targets[lots[x.Lot].Seq] = append(targets[lots[x.Lot].Seq], x)
		}
	}
	for _, seq := range slices.Sorted(maps.Keys(targets)) {
		records = append(records, fixTarget(c, p, seq, targets[seq]))
	}
	return records
}

// fixTarget corrects an opening or a top-up; a top-up of which nothing is left
// is taken back.
func fixTarget(c *engine.Talk, p *books.Period, seq int64, list []diagnosis.Change) books.Record {
	r := books.Record{Kind: books.Correction, Period: p.No, Target: seq, Reason: books.Mistyped}
	old, ok := books.AsCorrected(trade.Ledger(c), seq)
	if !ok {
		return r
	}
	figs, rest := slices.Clone(old.Figures), int64(0)
	for i, f := range figs {
		if f.Field == books.Loaded || f.Field == books.Added {
			figs[i].Notes = diagnosis.Changed(list, list[0].Field, f.Face, f.Notes)
		}
		rest += figs[i].Notes
	}
	if rest > 0 || old.Kind == books.Opening {
		in := old.Record
		in.Figures = figs
		r.Instead = &in
	}
	return r
}

// fixCount makes the count that would hold, marked because what should be there
// was known by then.
func fixCount(c *engine.Talk, p *books.Period, list []diagnosis.Change) books.Record {
	r := books.Record{Kind: books.Count, Period: p.No, Marks: []books.Mark{books.NotBlind}}
	for _, b := range p.Boxes {
		r.Figures = append(r.Figures, books.Figure{Field: books.Remaining, Box: b.Position, Face: b.Face,
			Notes: diagnosis.Changed(list, diagnosis.Remaining, b.Face, b.Remaining)})
	}
	tray := books.Notes{}
	for _, l := range ask.KindLines(c) {
		tray.Plus(l.Face, diagnosis.Changed(list, diagnosis.Rejects, l.Face, p.Tray[l.Face]))
	}
	r.Figures = append(r.Figures, tray.Figures(books.Refused)...)
	r.Figures = append(r.Figures, p.Path.Figures(books.FoundAt)...)
	if !p.Taken {
		return r
	}
	in := r
	in.Happened = p.CountedAt
	return books.Record{Kind: books.Correction, Period: p.No, Target: p.CountSeq, Reason: books.Miscounted,
		Instead: &in}
}
