package dialogs

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/diagnosis"
)

// fixButtons offer to correct what an explanation says was typed wrongly.
func (c *talk) fixButtons(p *books.Period) [][]Button {
	var rows [][]Button
	for i, cause := range c.causes(p) {
		switch list := c.mend(p, cause); {
		case len(list) > 0:
			rows = append(rows, []Button{{c.v.Say("button.fix", "what", c.changeWord(list[0])),
				"fix-" + strconv.Itoa(i)}})
		case cause.Slips[0].ID == diagnosis.RejectsMissed && !p.Taken:
			rows = append(rows, c.button("count-tray", "count-tray"))
		}
	}
	return rows
}

// changeWord names a figure that would be another one: 20s: 61.
func (c *talk) changeWord(x change) string {
	return c.v.Say("change", "kind", c.v.Kind(x.face), "to", c.v.Number(x.to))
}

// tapFix shows what a correction would change.
func tapFix(c *talk, choice string) bool {
	p, err := c.preview()
	n, found := strings.CutPrefix(choice, "fix-")
	i, bad := strconv.Atoi(n)
	if err != nil || !found || bad != nil || i < 0 || i >= len(c.causes(p)) {
		return false
	}
	c.choose("fix", n)
	c.goTo("fix")
	return true
}

// fixes are the changes that were chosen, or none any more.
func (c *talk) fixes() (*books.Period, []change) {
	p, err := c.preview()
	i, bad := strconv.Atoi(c.chosen("fix"))
	if err != nil || bad != nil {
		return p, nil
	}
	causes := c.causes(p)
	if i < 0 || i >= len(causes) {
		return p, nil
	}
	return p, c.mend(p, causes[i])
}

func readFix(c *talk) []Block {
	_, list := c.fixes()
	if len(list) == 0 {
		c.goTo("verdict")
		return nil
	}
	var rows [][]string
	for _, x := range list {
		rows = append(rows, []string{c.v.Kind(x.face), c.fieldWord(x.field), c.v.Number(x.from), "→",
			c.v.Number(x.to)})
	}
	note := ""
	if slices.ContainsFunc(list, func(x change) bool {
		return x.field == diagnosis.Remaining ||
			x.field == diagnosis.Rejects
	}) {
		note = c.v.Say("fix.not-blind")
	}
	return []Block{text(c.v.Say("fix")), columns(2, rows), text(c.v.Say("fix.then"), note)}
}

// bookFix carries the changes out and shows the result anew.
func bookFix(c *talk) {
	p, list := c.fixes()
	c.forget("fix")
	c.goTo("verdict")
	if err := c.fixDraft(list); err != nil {
		c.refuse(err)
		return
	}
	for _, r := range c.fixRecords(p, list) {
		if err := c.write(r); err != nil {
			c.refuse(err)
			return
		}
		if r.Kind == books.Correction {
			c.tellCorrected(r)
		}
	}
	if len(list) > 0 {
		c.first(c.v.Say("fix.done", "when", c.clock(c.in.At)))
	}
}

// write records one record, a correction as such.
func (c *talk) write(r books.Record) error {
	if r.Kind == books.Correction {
		return c.correct(r)
	}
	_, err := c.record(r)
	return err
}

// fixDraft changes printed figures that are in no record yet.
func (c *talk) fixDraft(list []change) error {
	for _, x := range list {
		q := map[diagnosis.Field]question{diagnosis.Dispensed: paidQuestion,
			diagnosis.Reversed: backQuestion}[x.field]
		if q.name == "" {
			continue
		}
		i := slices.IndexFunc(kindLines(c), func(l line) bool { return l.face == x.face })
		if i < 0 {
			return fmt.Errorf("no line for %s", x.face)
		}
		q.values(c)[i] = x.to
		q.accept(c, i, x.to)
	}
	return nil
}

// fixRecords makes the records: a new count, and corrections of an opening or a top-up.
func (c *talk) fixRecords(p *books.Period, list []change) []books.Record {
	var records []books.Record
	if r, ok := c.fixCount(p, list); ok {
		records = append(records, r)
	}
	lots := c.lotsOf(p)
	targets := map[int64][]change{}
	for _, x := range list {
		switch x.field {
		case diagnosis.Loaded:
			targets[p.No] = append(targets[p.No], x)
		case diagnosis.Topups:
			targets[lots[x.lot].seq] = append(targets[lots[x.lot].seq], x)
		}
	}
	for _, seq := range slices.Sorted(maps.Keys(targets)) {
		records = append(records, c.fixTarget(p, seq, targets[seq]))
	}
	return records
}

// fixTarget corrects an opening or a top-up; a top-up of which nothing is left
// is taken back.
func (c *talk) fixTarget(p *books.Period, seq int64, list []change) books.Record {
	r := books.Record{Kind: books.Correction, Period: p.No, Target: seq, Reason: books.Mistyped}
	old, ok := c.original(seq)
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
func (c *talk) fixCount(p *books.Period, list []change) (books.Record, bool) {
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
	for _, f := range kindLines(c) {
		n, ok := tray[string(f.face)]
		if !ok {
			n = p.Tray[f.face]
		}
		if n > 0 {
			r.Figures = append(r.Figures, books.Figure{Field: books.Refused, Face: f.face, Notes: n})
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

// countTray asks for the box for refused notes again, and nothing else.
func countTray(c *talk) {
	p := c.target()
	v := make([]int64, len(p.Boxes))
	for i, b := range p.Boxes {
		v[i] = b.Remaining
	}
	c.put("left", v)
	c.forget("tray", "no-tray")
	c.choose("not-blind", "yes")
	c.goTo("tray")
}
