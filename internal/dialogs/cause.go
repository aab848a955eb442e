package dialogs

import (
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
)

// lot is one top-up of a period and its record; 0 when it stands for several.
type lot struct {
	seq   int64
	notes cashmath.Notes
}

// lots lists a period's top-ups one by one where they are at hand, else as one.
func (c *talk) lotsOf(p *books.Period) []lot {
	var list []lot
	var sum books.Notes
	for _, b := range c.m.Recent {
		if b.Period != p.No || b.Void || b.Corrected != 0 || b.Kind != books.TopUp && b.Kind != books.Swap {
			continue
		}
		l := lot{seq: b.Seq, notes: cashmath.Notes{}}
		for _, f := range b.Figures {
			if f.Field == books.Added {
				l.notes[f.Face] += f.Notes
				sum.Plus(f.Face, f.Notes)
			}
		}
		if b.Kind == books.Swap {
			l.seq = 0
		}
		list = append(list, l)
	}
	for _, f := range append(sum.Faces(), p.Added.Faces()...) {
		if sum[f] != p.Added[f] {
			return []lot{{notes: cashmath.Notes(p.Added)}}
		}
	}
	return list
}

// evidence gathers what is on record about a period that does not balance.
func (c *talk) evidence(p *books.Period) diagnosis.Facts {
	f := diagnosis.Facts{
		Currency: c.f.Shop.Currency, Day: p.Day(), Capacity: cashmath.Notes{}, Bundle: cashmath.Notes{},
		Jams: c.jams(p), LargestDispense: c.kit.LargestDispense,
	}
	f.Day.Topups = nil
	for _, l := range c.lotsOf(p) {
		f.Day.Topups = append(f.Day.Topups, l.notes)
	}
	for _, b := range c.kit.Boxes {
		f.Capacity[b.Face] += b.Capacity
		if n := c.f.Shop.Bundle(b.Face); n > 0 {
			f.Bundle[b.Face] = n
		}
	}
	for _, before := range c.m.Periods {
		if before.Status == books.Closed && before.No < p.No && !before.TotalOnly() {
			day := before.Day()
			f.Previous = &day
		}
	}
	return f
}

// maxCauses is how many explanations are shown.
const maxCauses = 2

// causes lists the best explanations of a period's difference; none where it
// balances, where nothing fits, and where the figures are not complete.
func (c *talk) causes(p *books.Period) []diagnosis.Cause {
	if p.TotalOnly() || p.Has(books.Unsettled) || p.Has(books.NoTray) {
		return nil
	}
	list := diagnosis.Explain(c.evidence(p))
	if len(list) == 0 || list[0].Slips[0].ID == diagnosis.Unexplained {
		return nil
	}
	return list[:min(len(list), maxCauses)]
}

// causeLines word the explanations, the best first.
func (c *talk) causeLines(p *books.Period) []string {
	var lines []string
	for i, cause := range c.causes(p) {
		id := "cause-first"
		if i > 0 {
			id = "cause-or"
		}
		lines = append(lines, c.v.Say(id, "what", c.cause(p, cause)))
	}
	return lines
}

func (c *talk) cause(p *books.Period, cause diagnosis.Cause) string {
	words := make([]string, len(cause.Slips))
	for i, s := range cause.Slips {
		words[i] = c.slip(p, s)
	}
	return strings.Join(words, " "+c.v.Say("cause-and")+" ")
}

// slip words one slip in everyday words, with what to look at.
func (c *talk) slip(p *books.Period, s diagnosis.Slip) string {
	var typed, likely, meant, moved string
	if s.Typed != nil {
		typed = c.v.Number(*s.Typed)
	}
	if s.Likely != nil {
		likely, meant = c.v.Number(*s.Likely), c.v.Count("notes", *s.Likely)
	}
	id := "cause." + string(s.ID)
	if s.ID == diagnosis.WrongLine {
		moved = c.v.Count("notes", *s.Typed-*s.Likely)
	}
	return c.v.Say(id, "kind", c.kindOr(s.Face), "other", c.kindOr(s.OtherFace), "field",
		c.fieldWord(s.Field),
		"typed", typed, "likely", likely, "meant", meant, "moved", moved, "notes", c.notes(c.differing(p)))
}

func (c *talk) kindOr(f cashmath.Face) string {
	if f == "" {
		return ""
	}
	return c.v.Kind(f)
}

func (c *talk) fieldWord(f diagnosis.Field) string {
	if f == "" {
		return ""
	}
	return c.v.Say("figure." + string(f))
}

// differing is how many notes of each kind are missing or too many.
func (c *talk) differing(p *books.Period) books.Notes {
	var n books.Notes
	for _, l := range cashmath.Reconcile(p.Day()).Lines {
		n.Plus(l.Face, max(l.VarianceNotes, -l.VarianceNotes))
	}
	return n
}

// jamGuide is the guide that is begun when notes are stuck.
const jamGuide = "note-jam"

// jams is how often notes were stuck during a period, as far as it is on record.
func (c *talk) jams(p *books.Period) int64 {
	n := int64(0)
	for _, f := range c.m.Faults {
		if f.Topic == jamGuide && !f.Began.Before(p.Opened) &&
			(p.CountedAt.IsZero() || !f.Began.After(p.CountedAt)) {
			n++
		}
	}
	return max(n, int64(len(p.Findings)))
}
