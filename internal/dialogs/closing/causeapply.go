package closing

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

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
	if slices.ContainsFunc(list, func(x change) bool {
		return x.field == diagnosis.Remaining ||
			x.field == diagnosis.Rejects
	}) {
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
	if err := fixDraft(c, list); err != nil {
		c.Refuse(err)
		return
	}
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
func fixDraft(c *engine.Talk, list []change) error {
	for _, x := range list {
		q := map[diagnosis.Field]ask.Question{diagnosis.Dispensed: paidQuestion,
			diagnosis.Reversed: backQuestion}[x.field]
		if q.Name == "" {
			continue
		}
		i := slices.IndexFunc(ask.KindLines(c), func(l ask.Line) bool { return l.Face == x.face })
		if i < 0 {
			return fmt.Errorf("no line for %s", x.face)
		}
		q.Values(c)[i] = x.to
		q.Accept(c, i, x.to)
	}
	return nil
}

// fixRecords makes the records: a new count, and corrections of an opening or a top-up.
func fixRecords(c *engine.Talk, p *books.Period, list []change) []books.Record {
	var records []books.Record
	if r, ok := fixCount(c, p, list); ok {
		records = append(records, r)
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
	for i := range figs {
		for _, x := range list {
			if figs[i].Face == x.face && (figs[i].Field == books.Loaded || figs[i].Field == books.Added) {
				figs[i].Notes = x.to
			}
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
func fixCount(c *engine.Talk, p *books.Period, list []change) (books.Record, bool) {
	left, tray := map[string]int64{}, map[string]int64{}
	for _, x := range list {
		switch x.field {
		case diagnosis.Remaining:
			left[string(x.face)] = x.to
		case diagnosis.Rejects:
			tray[string(x.face)] = x.to
		}
	}
	if len(left)+len(tray) == 0 {
		return books.Record{}, false
	}
	r := books.Record{Kind: books.Count, Period: p.No, Marks: []books.Mark{books.NotBlind}}
	for _, b := range p.Boxes {
		f := books.Figure{Field: books.Remaining, Box: b.Position, Face: b.Face, Notes: b.Remaining}
		if n, ok := left[string(b.Face)]; ok {
			f.Notes = n
		}
		r.Figures = append(r.Figures, f)
	}
	for _, f := range ask.KindLines(c) {
		n, ok := tray[string(f.Face)]
		if !ok {
			n = p.Tray[f.Face]
		}
		if n > 0 {
			r.Figures = append(r.Figures, books.Figure{Field: books.Refused, Face: f.Face, Notes: n})
		}
	}
	for _, f := range p.Path.Faces() {
		r.Figures = append(r.Figures, books.Figure{Field: books.FoundAt, Face: f, Notes: p.Path[f]})
	}
	if !p.Taken {
		return r, true
	}
	in := r
	in.Happened = p.CountedAt
	return books.Record{Kind: books.Correction, Period: p.No, Target: p.CountSeq,
		Reason: books.Miscounted, Instead: &in}, true
}
