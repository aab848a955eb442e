package pictures

import (
	"fmt"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// Level is how many notes of each kind were left over the last day that was loaded, as
// the machine showed it at level checks and as it was counted. What only the ledger
// thinks is not shown while a count is to come.
func Level(m Machine) (Sheet, error) {
	folded, err := books.Fold(m.Kit.ID, m.Entries)
	if err != nil {
		return Sheet{}, err
	}
	s := Sheet{Title: m.Voice.Say("picture.level", "name", m.name()),
		Keys: []Key{{Dotted, m.Voice.Say("picture.shown")}}}
	p := folded.Last()
	if p == nil {
		return s, nil
	}
	end := p.CountedAt
	if end.IsZero() {
		end = m.Now
	}
	hours := max(end.Sub(p.Opened).Hours(), 1)
	s.Title += ", " + m.Voice.Day(p.Opened.In(m.Shop.Location))
	for _, face := range m.Kit.Faces() {
		s.Graphs = append(s.Graphs, Graph{Name: m.kind(face) + ", " + m.Voice.Say("picture.notes"),
			Length: hours + 1, Marks: m.hourMarks(p.Opened, hours), Rows: []Row{levels(p, face)}})
	}
	return s, nil
}

// levels are the points at which somebody knew what was left.
func levels(p *books.Period, face cashmath.Face) Row {
	at := func(t time.Time) float64 { return t.Sub(p.Opened).Hours() }
	r := Row{Look: Dotted}
	r.Points = append(r.Points, Point{0, float64(p.Loaded()[face])})
	for _, reading := range p.Readings {
		n := int64(0)
		for i, b := range p.Boxes {
			if b.Face == face {
				n += reading.Boxes[i]
			}
		}
		r.Points = append(r.Points, Point{at(reading.Happened), float64(n)})
	}
	if !p.CountedAt.IsZero() {
		r.Points = append(r.Points, Point{at(p.CountedAt), float64(p.Day().Remaining[face])})
	}
	return r
}

// hourMarks names hours of the clock.
func (m Machine) hourMarks(from time.Time, hours float64) []Mark {
	local := from.In(m.Shop.Location)
	step := max(int(hours)/marksMax+1, 1)
	first := time.Date(local.Year(), local.Month(), local.Day(), local.Hour()+1, 0, 0, 0, m.Shop.Location)
	var list []Mark
	for t := first; t.Sub(from).Hours() <= hours+0.5; t = t.Add(time.Duration(step) * time.Hour) {
		list = append(list, Mark{At: t.Sub(from).Hours(),
			Text: fmt.Sprintf("%02d:00", t.In(m.Shop.Location).Hour())})
	}
	return list
}
