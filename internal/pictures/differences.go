package pictures

import (
	"shopfloat/internal/leaks"
)

// Differences shows, for every kind of note, what was missing or too many each day,
// what it gathers to, and the limits within which it is nothing but chance.
func Differences(m Machine) (Sheet, error) {
	days, err := leaks.Learn(m.Shop, m.Kit.ID, m.Entries)
	if err != nil {
		return Sheet{}, err
	}
	s := Sheet{Title: m.Voice.Say("picture.differences", "name", m.name()),
		Keys: []Key{{LightBars, m.Voice.Say("picture.day")}, {Stepped, m.Voice.Say("picture.gathered")},
			{Dashed, m.Voice.Say("picture.limit")}}}
	if len(days) == 0 {
		return s, nil
	}
	for _, k := range leaks.Look(days, m.Kit.Faces()) {
		if k.Days > 0 {
			s.Graphs = append(s.Graphs, m.differences(k))
		}
	}
	return s, nil
}

// shownDays is how far back the graphs go.
const shownDays = 92

// shownMost keeps one bad evening from flattening all others: a bar is no longer.
const shownMost = 5

func (m Machine) differences(k leaks.Kind) Graph {
	last := k.Dates[len(k.Dates)-1]
	from := max(k.Dates[0], last.Add(1-shownDays))
	length := between(from, last) + 1
	day, sum := Row{Look: LightBars}, Row{Look: Stepped}
	most := float64(max(shownMost, int(2*k.Limit)))
	for i, date := range k.Dates {
		if date < from {
			continue
		}
		x := float64(between(from, date))
		day.Points = append(day.Points, Point{x, min(max(float64(k.Notes[i]), -most), most)})
		sum.Points = append(sum.Points, Point{x, k.Sums[i]})
	}
	limit := func(y float64) Row {
		return Row{Look: Dashed, Points: []Point{{0, y}, {float64(length) - 1, y}}}
	}
	return Graph{Name: m.Voice.Say("picture.differ", "kind", m.kind(k.Face)), Length: float64(length),
		Marks: m.dayMarks(from, length), Rows: []Row{day, sum, limit(k.Limit), limit(-k.Limit)}}
}
