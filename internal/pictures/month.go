package pictures

import (
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// Month is the last thirty-one days up to a date: what was paid out, what was missing
// or too many, what the bank owed in the evening.
func Month(m Machine) (Sheet, error) {
	const days = 31
	to := shop.DateOf(m.Now.In(m.Shop.Location))
	from := to.Add(1 - days)
	list, err := m.closed()
	if err != nil {
		return Sheet{}, err
	}
	var paid, off Row
	paid.Look, off.Look = DarkBars, LightBars
	for _, w := range list {
		at := between(from, w.day)
		if at < 0 || at >= days {
			continue
		}
		out, back := w.p.Paid()
		add(&paid, at, out.Sub(back))
		add(&off, at, w.p.Variance)
	}
	owed, err := m.owed(from, days)
	if err != nil {
		return Sheet{}, err
	}
	marks := m.dayMarks(from, days)
	graph := func(id string, r Row) Graph {
		return Graph{Name: m.orNone(id, r), Length: days, Marks: marks, Rows: []Row{r}}
	}
	return Sheet{Title: m.Voice.Say("picture.month", "name", m.name()),
		Keys: []Key{{DarkBars, m.Voice.Say("picture.paid")}, {LightBars, m.Voice.Say("picture.off")},
			{Stepped, m.Voice.Say("picture.owed")}},
		Graphs: []Graph{graph("picture.paid-in", paid), graph("picture.off-in", off),
			graph("picture.owed-in", owed)},
	}, nil
}

// add adds to the figure of a day.
func add(r *Row, at int, value decimal.Decimal) {
	y := value.InexactFloat64()
	for i := range r.Points {
		if r.Points[i].X == float64(at) {
			r.Points[i].Y += y
			return
		}
	}
	r.Points = append(r.Points, Point{X: float64(at), Y: y})
}

// owed is what the bank owed at the end of each day.
func (m Machine) owed(from shop.Date, days int) (Row, error) {
	r := Row{Look: Stepped}
	n := 0
	for i := range days {
		night := from.Add(i + 1).Time()
		end := time.Date(night.Year(), night.Month(), night.Day(), 0, 0, 0, 0, m.Shop.Location)
		for n < len(m.Entries) && m.Entries[n].Recorded.Before(end) {
			n++
		}
		if n == 0 || from.Add(i) > shop.DateOf(m.Now.In(m.Shop.Location)) {
			continue
		}
		folded, err := books.Fold(m.Kit.ID, m.Entries[:n])
		if err != nil {
			return r, err
		}
		r.Points = append(r.Points, Point{X: float64(i), Y: folded.ByBank().InexactFloat64()})
	}
	return r, nil
}
