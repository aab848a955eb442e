package telling

import (
	"slices"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/diagnosis"
)

// Lot is one top-up of a period and its record; 0 when it stands for several.
type Lot struct {
	Seq   int64
	notes cashmath.Notes
}

// LotsOf lists a period's top-ups one by one where they are at hand, else as one.
func LotsOf(t *Teller, p *books.Period) []Lot {
	var list []Lot
	var sum books.Notes
	for _, b := range t.M.Recent {
		if b.Period != p.No || b.Void || b.Corrected != 0 || b.Kind != books.TopUp && b.Kind != books.Swap {
			continue
		}
		l := Lot{Seq: b.Seq, notes: cashmath.Notes{}}
		for _, f := range b.Figures {
			if f.Field == books.Added {
				l.notes[f.Face] += f.Notes
				sum.Plus(f.Face, f.Notes)
			}
		}
		if b.Kind == books.Swap {
			l.Seq = 0
		}
		list = append(list, l)
	}
	for _, f := range append(sum.Faces(), p.Added.Faces()...) {
		if sum[f] != p.Added[f] {
			return []Lot{{notes: cashmath.Notes(p.Added)}}
		}
	}
	return list
}

// LotRecords lists the records of a period's top-ups, in the order of LotsOf.
func LotRecords(t *Teller, p *books.Period) (seqs []int64) {
	for _, l := range LotsOf(t, p) {
		seqs = append(seqs, l.Seq)
	}
	return seqs
}

// Evidence gathers what is on record about a period that does not balance.
func Evidence(t *Teller, p *books.Period) diagnosis.Facts {
	f := diagnosis.Facts{
		Currency: t.F.Shop.Currency, Day: p.Day(), Capacity: cashmath.Notes{}, Bundle: cashmath.Notes{},
		Jams: jams(t, p), LargestDispense: t.Kit.LargestDispense,
	}
	f.Day.Topups = nil
	for _, l := range LotsOf(t, p) {
		f.Day.Topups = append(f.Day.Topups, l.notes)
	}
	for _, b := range t.Kit.Boxes {
		f.Capacity[b.Face] += b.Capacity
		if n := t.F.Shop.Bundle(b.Face); n > 0 {
			f.Bundle[b.Face] = n
		}
	}
	for _, before := range t.M.Periods {
		if before.Status == books.Closed && before.No < p.No && !before.TotalOnly() {
			day := before.Day()
			f.Previous = &day
		}
	}
	return f
}

// maxCauses is how many explanations are shown.
const maxCauses = 2

// slip words one slip in everyday words, with what to look at.
func slip(t *Teller, p *books.Period, s diagnosis.Slip) string {
	var typed, likely, meant, moved string
	if s.Typed != nil {
		typed = t.V.Number(*s.Typed)
	}
	if s.Likely != nil {
		likely, meant = t.V.Number(*s.Likely), t.V.Count("notes", *s.Likely)
	}
	id := "cause." + string(s.ID)
	if s.ID == diagnosis.WrongLine {
		moved = t.V.Count("notes", *s.Typed-*s.Likely)
	}
	return t.V.Say(id, "kind", kindOr(t, s.Face), "other", kindOr(t, s.OtherFace), "field",
		FieldWord(t, s.Field), "typed", typed, "likely", likely, "meant", meant, "moved", moved,
		"notes", t.Notes(differing(t, p)))
}

func kindOr(t *Teller, f cashmath.Face) string {
	if f == "" {
		return ""
	}
	return t.V.Kind(f)
}

// FieldWord words a figure by which a cause goes.
func FieldWord(t *Teller, f diagnosis.Field) string {
	if f == "" {
		return ""
	}
	return t.V.Say("figure." + string(f))
}

// differing is how many notes of each kind are missing or too many.
func differing(t *Teller, p *books.Period) books.Notes {
	var n books.Notes
	for _, l := range cashmath.Reconcile(p.Day()).Lines {
		n.Plus(l.Face, max(l.VarianceNotes, -l.VarianceNotes))
	}
	return n
}

// jamGuide is the guide that is begun when notes are stuck.
const jamGuide = "note-jam"

// jams is how often notes were stuck during a period, as far as it is on record.
func jams(t *Teller, p *books.Period) int64 {
	n := int64(0)
	for _, f := range t.M.Faults {
		if f.Topic == jamGuide && !f.Began.Before(p.Opened) &&
			(p.CountedAt.IsZero() || !f.Began.After(p.CountedAt)) {
			n++
		}
	}
	return max(n, int64(len(p.Findings)))
}

// SlipName names printed figures by when they were typed in and what was paid out.
func SlipName(t *Teller, s books.Slip) string {
	if t.Hidden() {
		return t.Clock(s.Happened)
	}
	return t.V.Say("slip-name", "when", t.Clock(s.Happened), "money", t.V.Money(s.Paid()))
}

// SlipNames names several printed figures.
func SlipNames(t *Teller, list []books.Slip) []string {
	names := make([]string, len(list))
	for i, s := range list {
		names[i] = SlipName(t, s)
	}
	return names
}

// Twice finds slips entered earlier that the newer figures of a period seem to
// hold once more: it balances, or nearly does, once they are left out, or less
// than nothing should be there with them. None: nothing speaks for it.
func Twice(t *Teller, p *books.Period) []books.Slip {
	word, _ := p.Balances()
	if len(p.Slips) < 2 || word == cashmath.Balanced || p.Has(books.Unsettled) {
		return nil
	}
	var tries [][]books.Slip
	for _, s := range slices.Backward(p.Slips[:len(p.Slips)-1]) {
		tries = append(tries, []books.Slip{s})
	}
	tries = append(tries, p.Slips[:len(p.Slips)-1])
	var best []books.Slip
	far := off(p)
	if !below(p) {
		far = far/nearly + 1
	}
	for _, out := range tries {
		q := withoutSlips(p, out)
		if word, _ := q.Balances(); word == cashmath.Balanced {
			return out
		}
		if d := off(q); !p.TotalOnly() && !below(q) && d < far {
			best, far = out, d
		}
	}
	return best
}

// nearly: leaving a slip out must take away nine tenths of a difference to be
// named as its cause. Common practice, no source.
const nearly = 10

// withoutSlips is a period without some of its printed figures.
func withoutSlips(p *books.Period, out []books.Slip) *books.Period {
	q := *p
	q.Slips = slices.DeleteFunc(slices.Clone(p.Slips), func(s books.Slip) bool {
		return slices.ContainsFunc(out, func(o books.Slip) bool { return o.Seq == s.Seq })
	})
	return &q
}

// off is how many notes differ, missing and too many added up.
func off(p *books.Period) (n int64) {
	for _, l := range cashmath.Reconcile(p.Day()).Lines {
		n += max(l.VarianceNotes, -l.VarianceNotes)
	}
	return n
}

// below reports whether less than nothing should be there of some kind.
func below(p *books.Period) bool {
	return !p.TotalOnly() && slices.ContainsFunc(cashmath.Reconcile(p.Day()).Lines, func(l cashmath.Line) bool {
		return l.Expected < 0
	})
}

// ChangeWord names a figure that would be another one: 20s: 61.
func ChangeWord(t *Teller, x diagnosis.Change) string {
	return t.V.Say("change", "kind", t.V.Kind(x.Face), "to", t.V.Number(x.To))
}

// SlipsIn names the printed figures that are in already, the last two of many; empty for none.
func SlipsIn(t *Teller, list []books.Slip) string {
	if len(list) == 0 {
		return ""
	}
	names := SlipNames(t, list)
	if n := len(names) - 2; n > 0 {
		names = append([]string{t.V.Count("slips-earlier", int64(n))}, names[n:]...)
	}
	return t.V.Say("slips-in", "slips", strings.Join(names, "; "))
}

// Changes says which figures would be other ones, and that the day balances with them.
func Changes(t *Teller, list []diagnosis.Change) []chat.Block {
	var rows [][]string
	for _, x := range list {
		rows = append(rows, []string{t.V.Kind(x.Face), FieldWord(t, x.Field), t.V.Number(x.From),
			"→", t.V.Number(x.To)})
	}
	note := ""
	if slices.ContainsFunc(list, diagnosis.Change.Counted) {
		note = t.V.Say("fix.not-blind")
	}
	return []chat.Block{chat.Lines(t.V.Say("fix")), chat.Columns(2, rows), chat.Lines(t.V.Say("fix.then"), note)}
}
