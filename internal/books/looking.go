package books

import "github.com/shopspring/decimal"

// PutIn is what was put into the boxes of a period, less what was taken out.
func (p *Period) PutIn() decimal.Decimal {
	return p.Loaded().Value().Add(p.Added.Value()).Sub(p.Removed.Value())
}

// Estimate is the most a box can hold now: the last level the machine showed
// and what was added since, or all that was put in.
func (p *Period) Estimate(position int) (notes int64, shown bool) {
	b := p.Box(position)
	switch {
	case b == nil:
		return 0, false
	case len(p.Readings) == 0:
		return b.Held, false
	}
	r := p.Readings[0]
	for _, x := range p.Readings[1:] { // one from paper may have come in after a newer one
		if !x.Happened.Before(r.Happened) {
			r = x
		}
	}
	return r.Boxes[position-1] + b.Held - r.Held[position-1], true
}

// PutAside is what was found on the way of the notes and put aside so far, as a
// count says it that does not ask for it again.
func (p *Period) PutAside() (list []Figure) {
	for _, face := range p.Path.Faces() {
		list = append(list, Figure{Field: FoundAt, Face: face, Notes: p.Path[face]})
	}
	return list
}

// SlipDiffers reports whether the last printed total that was typed in is not
// what was put in: one that agrees settles it, a tick does not.
func (p *Period) SlipDiffers() bool { return p.Total != nil && !p.Total.Equal(p.PutIn()) }

// AsCorrected finds a record of the ledger as it holds now: as it was written, or
// as the last correction put it. Of the ledger all from that record on is needed.
func AsCorrected(all []Entry, seq int64) (Entry, bool) {
	at, ok := find(all, seq)
	if !ok {
		return Entry{}, false
	}
	e, void := all[at], map[int64]bool{}
	for _, x := range all {
		if x.Kind == Undo {
			void[x.Target] = true
		}
	}
	for _, x := range all {
		if x.Kind == Correction && x.Target == seq && !void[x.Seq] {
			if x.Instead == nil {
				return e, false
			}
			e.Record = *x.Instead
		}
	}
	return e, !void[seq]
}

// NotesIn adds up, by face value, the figures of the given fields.
func NotesIn(figs []Figure, fields ...Field) (n Notes) {
	for _, f := range figs {
		for _, field := range fields {
			if f.Field == field {
				n.Plus(f.Face, f.Notes)
			}
		}
	}
	return n
}

// Figures makes figures of notes by kind.
func (n Notes) Figures(field Field) (figs []Figure) {
	for _, f := range n.Faces() {
		figs = append(figs, Figure{Field: field, Face: f, Notes: n[f]})
	}
	return figs
}

// ClaimsOf are those of settlements that are at hand.
func (m *Machine) ClaimsOf(of []int64) (list []Claim) {
	for _, seq := range of {
		if x := m.Claim(seq); x != nil {
			list = append(list, *x)
		}
	}
	return list
}
