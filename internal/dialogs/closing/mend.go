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
)

// change is one figure of a period that would be another one.
type change struct {
	field    diagnosis.Field
	lot      int // of top-ups
	face     cashmath.Face
	from, to int64
}

// mend gives the changes that an explanation stands for; none when it is
// nothing that can be typed: notes to look for, or a call to make.
func mend(c *engine.Talk, p *books.Period, cause diagnosis.Cause) []change {
	day := trade.Evidence(c, p).Day
	var list []change
	for _, s := range cause.Slips {
		changes := mendSlip(day, s)
		if len(changes) == 0 {
			return nil
		}
		list = append(list, changes...)
	}
	stays := func(x change) bool { return !canChange(c, p, x) }
	if p.Taken && !trade.HasLedger(c) || !balances(day, list) || slices.ContainsFunc(list, stays) {
		return nil
	}
	return list
}

func mendSlip(day cashmath.Day, s diagnosis.Slip) []change {
	set := func(face cashmath.Face, to int64) change {
		return change{s.Field, s.Lot, face, lotOf(&day, s.Field, s.Lot)[face], to}
	}
	at := lotOf(&day, s.Field, s.Lot)
	switch s.ID {
	case diagnosis.DigitsTransposed, diagnosis.DigitSlid, diagnosis.ValueForQuantity:
		return []change{set(s.Face, *s.Likely)}
	case diagnosis.LinesExchanged:
		return []change{set(s.Face, at[s.OtherFace]), set(s.OtherFace, at[s.Face])}
	case diagnosis.WrongLine:
		return []change{set(s.Face, *s.Likely), set(s.OtherFace, at[s.OtherFace]+*s.Typed-*s.Likely)}
	}
	var list []change
	for _, l := range cashmath.Reconcile(day).Lines {
		v := l.VarianceNotes
		switch {
		case v == 0:
		case s.ID == diagnosis.TopupTwice || s.ID == diagnosis.RejectsCountedTwice:
			list = append(list, set(l.Face, 0))
		case s.ID == diagnosis.ReversalSign && s.Field == diagnosis.Dispensed:
			list = append(list, set(l.Face, at[l.Face]-v))
		case s.ID == diagnosis.LeftInOvernight:
			list = append(list, set(l.Face, at[l.Face]+v))
		}
	}
	return list
}

// lotOf finds the notes of a field; nil for one that is not there.
func lotOf(day *cashmath.Day, f diagnosis.Field, lot int) cashmath.Notes {
	switch f {
	case diagnosis.Loaded:
		return day.Loaded
	case diagnosis.Dispensed:
		return day.Dispensed
	case diagnosis.Reversed:
		return day.Reversed
	case diagnosis.Remaining:
		return day.Remaining
	case diagnosis.Rejects:
		return day.Rejects
	case diagnosis.Topups:
		if lot < len(day.Topups) {
			return day.Topups[lot]
		}
	}
	return nil
}

// balances reports whether a day would balance with the changes.
func balances(day cashmath.Day, list []change) bool {
	for _, n := range []*cashmath.Notes{&day.Loaded, &day.Dispensed, &day.Reversed, &day.Remaining,
		&day.Rejects} {
		*n = cashmath.Sum(*n)
	}
	day.Topups = slices.Clone(day.Topups)
	for i := range day.Topups {
		day.Topups[i] = maps.Clone(day.Topups[i])
	}
	for _, x := range list {
		n := lotOf(&day, x.field, x.lot)
		if n == nil || x.to < 0 {
			return false
		}
		n[x.face] = x.to
	}
	return cashmath.Reconcile(day).Verdict == cashmath.Balanced
}

// canChange reports whether a figure is one that a person gave, in one box and
// in one record.
func canChange(c *engine.Talk, p *books.Period, x change) bool {
	boxes := 0
	for _, b := range p.Boxes {
		if b.Face == x.face {
			boxes++
		}
	}
	switch x.field {
	case diagnosis.Remaining:
		return boxes == 1
	case diagnosis.Loaded:
		return boxes == 1 && trade.HasLedger(c)
	case diagnosis.Topups:
		lots := trade.LotsOf(c, p)
		return boxes == 1 && trade.HasLedger(c) && x.lot < len(lots) && lots[x.lot].Seq != 0
	case diagnosis.Dispensed, diagnosis.Reversed:
		return !kept(c).NoMore && len(ask.Target(c).Slips) == 0 && c.Counted("last-seen") == nil &&
			lineOf(c, x.face) >= 0
	}
	return true
}

// fixButtons offer to correct what an explanation says was typed wrongly.
func fixButtons(c *engine.Talk, p *books.Period) [][]chat.Button {
	var rows [][]chat.Button
	for i, cause := range trade.Causes(c, p) {
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
func changeWord(c *engine.Talk, x change) string {
	return c.V.Say("change", "kind", c.V.Kind(x.face), "to", c.V.Number(x.to))
}

// tapFix shows what a correction would change.
func tapFix(c *engine.Talk, choice string) bool {
	p, err := preview(c)
	n, found := strings.CutPrefix(choice, "fix-")
	i, bad := strconv.Atoi(n)
	if err != nil || !found || bad != nil || i < 0 || i >= len(trade.Causes(c, p)) {
		return false
	}
	kept(c).Fix = i + 1
	c.GoTo("fix")
	return true
}

// fixes are the changes that were chosen, or none any more.
func fixes(c *engine.Talk) (*books.Period, []change) {
	p, err := preview(c)
	i := kept(c).Fix - 1
	if err != nil || i < 0 {
		return p, nil
	}
	if causes := trade.Causes(c, p); i < len(causes) {
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
		rows = append(rows, []string{c.V.Kind(x.face), trade.FieldWord(c, x.field), c.V.Number(x.from), "→",
			c.V.Number(x.to)})
	}
	note := ""
	if slices.ContainsFunc(list, change.counted) {
		note = c.V.Say("fix.not-blind")
	}
	return []chat.Block{engine.Text(c.V.Say("fix")), engine.Columns(2, rows),
		engine.Text(c.V.Say("fix.then"), note)}
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
func fixDraft(c *engine.Talk, list []change) {
	for _, x := range list {
		q := paidQuestion
		switch x.field {
		case diagnosis.Dispensed:
		case diagnosis.Reversed:
			q = backQuestion
		default:
			continue
		}
		i := lineOf(c, x.face)
		q.Values(c)[i] = x.to
		q.Accept(c, i, x.to)
	}
}

// lineOf is where a kind of note stands among the printed figures; -1 for nowhere.
func lineOf(c *engine.Talk, face cashmath.Face) int {
	return slices.IndexFunc(ask.KindLines(c), func(l ask.Line) bool { return l.Face == face })
}

// fixRecords makes the records: a new count, and corrections of an opening or a top-up.
func fixRecords(c *engine.Talk, p *books.Period, list []change) []books.Record {
	var records []books.Record
	if slices.ContainsFunc(list, change.counted) {
		records = append(records, fixCount(c, p, list))
	}
	lots := trade.LotsOf(c, p)
	targets := map[int64][]change{}
	for _, x := range list {
		switch x.field {
		case diagnosis.Loaded:
			targets[p.No] = append(targets[p.No], x)
		case diagnosis.Topups:
			targets[lots[x.lot].Seq] = append(targets[lots[x.lot].Seq], x)
		}
	}
	for _, seq := range slices.Sorted(maps.Keys(targets)) {
		records = append(records, fixTarget(c, p, seq, targets[seq]))
	}
	return records
}

// fixTarget corrects an opening or a top-up; a top-up of which nothing is left
// is taken back.
func fixTarget(c *engine.Talk, p *books.Period, seq int64, list []change) books.Record {
	r := books.Record{Kind: books.Correction, Period: p.No, Target: seq, Reason: books.Mistyped}
	old, ok := trade.Original(c, seq)
	if !ok {
		return r
	}
	figs, rest := slices.Clone(old.Figures), int64(0)
	for i, f := range figs {
		if f.Field == books.Loaded || f.Field == books.Added {
			figs[i].Notes = changed(list, list[0].field, f.Face, f.Notes)
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

// counted reports whether a figure is one of a count.
func (x change) counted() bool { return x.field == diagnosis.Remaining || x.field == diagnosis.Rejects }

// changed is a figure as it would be with the changes.
func changed(list []change, field diagnosis.Field, face cashmath.Face, notes int64) int64 {
	for _, x := range list {
		if x.field == field && x.face == face {
			notes = x.to
		}
	}
	return notes
}

// fixCount makes the count that would hold, marked because what should be there
// was known by then.
func fixCount(c *engine.Talk, p *books.Period, list []change) books.Record {
	r := books.Record{Kind: books.Count, Period: p.No, Marks: []books.Mark{books.NotBlind}}
	for _, b := range p.Boxes {
		r.Figures = append(r.Figures, books.Figure{Field: books.Remaining, Box: b.Position, Face: b.Face,
			Notes: changed(list, diagnosis.Remaining, b.Face, b.Remaining)})
	}
	tray := books.Notes{}
	for _, l := range ask.KindLines(c) {
		tray.Plus(l.Face, changed(list, diagnosis.Rejects, l.Face, p.Tray[l.Face]))
	}
	r.Figures = append(r.Figures, figuresOf(books.Refused, tray)...)
	r.Figures = append(r.Figures, figuresOf(books.FoundAt, p.Path)...)
	if !p.Taken {
		return r
	}
	in := r
	in.Happened = p.CountedAt
	return books.Record{Kind: books.Correction, Period: p.No, Target: p.CountSeq, Reason: books.Miscounted,
		Instead: &in}
}
