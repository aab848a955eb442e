package lines

import "shopfloat/internal/books"

// TrialOf is the test payout of an opening's list: a note from each box that
// holds any. It is told under the day of that list, whenever it is ticked.
func TrialOf(p *books.Period, t books.Trial) books.Record {
	r := books.Record{Kind: books.Test, Period: p.No, Day: p.Date, Where: t.Where}
	for _, b := range p.Boxes {
		if b.Loaded > 0 {
			r.Figures = append(r.Figures, books.Figure{Field: books.Tried, Box: b.Position, Face: b.Face, Notes: 1})
		}
	}
	if t.Counted {
		r.Marks = []books.Mark{books.Counted}
	}
	return r
}

// Found are the notes that were found so far, wherever they were put.
func Found(p *books.Period) books.Notes {
	all := books.Notes{}
	for _, f := range p.Findings {
		all.Add(f.Notes)
	}
	return all
}
