// Package mending makes the records that put right what is on record: what a probable
// slip stands for, and the figures of a record that somebody corrects.
package mending

import (
	"maps"
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/lines"
)

// Records make what a slip stands for: a new count, and corrections of an opening or of
// top-ups, which are named by their records. The ledger is read only where it is needed.
func Records(
	p *books.Period, list []diagnosis.Change, topups []int64, kinds []lines.Line, ledger func() []books.Entry,
) []books.Record {
	var records []books.Record
	if slices.ContainsFunc(list, diagnosis.Change.Counted) {
		records = append(records, recount(p, list, kinds))
	}
	targets := map[int64][]diagnosis.Change{}
	for _, x := range list {
		switch x.Field {
		case diagnosis.Loaded:
			targets[p.No] = append(targets[p.No], x)
		case diagnosis.Topups:
			targets[topups[x.Lot]] = append(targets[topups[x.Lot]], x)
		}
	}
	for _, seq := range slices.Sorted(maps.Keys(targets)) {
		records = append(records, retold(p, seq, targets[seq], ledger()))
	}
	return records
}

// retold corrects an opening or a top-up; a top-up of which nothing is left is taken back.
func retold(p *books.Period, seq int64, list []diagnosis.Change, ledger []books.Entry) books.Record {
	r := books.Record{Kind: books.Correction, Period: p.No, Target: seq, Reason: books.Mistyped}
	old, ok := books.AsCorrected(ledger, seq)
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

// recount makes the count that would hold, marked because what should be there was known
// by then. Where the next opening has taken the notes, the count on record is corrected.
func recount(p *books.Period, list []diagnosis.Change, kinds []lines.Line) books.Record {
	r := books.Record{Kind: books.Count, Period: p.No, Marks: []books.Mark{books.NotBlind}}
	for _, b := range p.Boxes {
		r.Figures = append(r.Figures, books.Figure{Field: books.Remaining, Box: b.Position, Face: b.Face,
			Notes: diagnosis.Changed(list, diagnosis.Remaining, b.Face, b.Remaining)})
	}
	tray := books.Notes{}
	for _, l := range kinds {
		tray.Plus(l.Face, diagnosis.Changed(list, diagnosis.Rejects, l.Face, p.Tray[l.Face]))
	}
	r.Figures = append(r.Figures, lines.FiguresOf(books.Refused, tray)...)
	r.Figures = append(r.Figures, lines.FiguresOf(books.FoundAt, p.Path)...)
	if !p.Taken {
		return r
	}
	in := r
	in.Happened = p.CountedAt
	return books.Record{Kind: books.Correction, Period: p.No, Target: p.CountSeq, Reason: books.Miscounted,
		Instead: &in}
}
