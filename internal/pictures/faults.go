package pictures

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Faults shows for how long the machine was out of service on each of the last 61 days,
// and how many faults began.
func Faults(m Machine) (Sheet, error) {
	const days = 61
	to := shop.DateOf(m.Now.In(m.Shop.Location))
	from := to.Add(1 - days)
	faults := books.Faults(m.Entries)
	hours, begun := Row{Look: DarkBars}, Row{Look: LightBars}
	for i := range days {
		start, end := m.midnight(from.Add(i)), m.midnight(from.Add(i+1))
		down, n := time.Duration(0), 0
		for _, f := range faults {
			down += f.Down(start, end, m.Now)
			if !f.Light && !f.Began.Before(start) && f.Began.Before(end) {
				n++
			}
		}
		hours.Points = append(hours.Points, Point{float64(i), min(down, end.Sub(start)).Hours()})
		begun.Points = append(begun.Points, Point{float64(i), float64(n)})
	}
	marks := m.dayMarks(from, days)
	return Sheet{Title: m.Voice.Say("picture.faults", "name", m.name()),
		Keys: []Key{{DarkBars, m.Voice.Say("picture.down")}, {LightBars, m.Voice.Say("picture.begun")}},
		Graphs: []Graph{
			{Name: m.orNone("picture.down-in", hours), Length: days, Marks: marks, Rows: []Row{hours}},
			{Name: m.orNone("picture.begun-in", begun), Length: days, Marks: marks, Rows: []Row{begun}},
		}}, nil
}

func (m Machine) midnight(d shop.Date) time.Time {
	t := d.Time()
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, m.Shop.Location)
}
