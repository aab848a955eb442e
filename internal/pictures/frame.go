package pictures

import (
	"fmt"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// Machine is one machine whose picture is made.
type Machine struct {
	Voice   *texts.Voice
	Shop    *shop.Shop
	Kit     *shop.Machine
	Entries []books.Entry // oldest first
	Now     time.Time
}

// name is the shop's, with the machine's where there are several.
func (m Machine) name() string {
	if len(m.Shop.Machines) > 1 {
		return m.Shop.Name + ", " + m.Kit.Name
	}
	return m.Shop.Name
}

// closed lists the closed periods with the day each belongs to, oldest first.
func (m Machine) closed() ([]when, error) {
	var list []when
	days := reminders.NewDays(m.Shop)
	err := books.Ended(m.Kit.ID, m.Entries, func(p *books.Period) {
		list = append(list, when{days.DayOf(p.Opened), *p})
	})
	return list, err
}

// when is a period and its day.
type when struct {
	day shop.Date
	p   books.Period
}

// marksMax is how many days can be named below a graph without running together.
const marksMax = 6

// dayMarks names some days of a span, counted from its first.
func (m Machine) dayMarks(from shop.Date, days int) []Mark {
	step := max((days+marksMax-1)/marksMax, 1)
	var list []Mark
	for i := 0; i < days; i += step {
		at := from.Add(i).Time()
		list = append(list, Mark{At: float64(i), Text: m.Voice.Say("chart.day", "day", at.Day(),
			"month", m.Voice.Say(fmt.Sprintf("month.%d", at.Month())))})
	}
	return list
}

// between counts the days from one date to another.
func between(from, to shop.Date) int {
	const day = 24 * time.Hour
	return int(to.Time().Sub(from.Time()) / day)
}

// orNone names a graph, and says so where all of its figures are nothing: an empty graph
// could also be one that failed.
func (m Machine) orNone(id string, r Row) string {
	name := m.Voice.Say(id, "currency", m.Shop.Currency)
	if slices.ContainsFunc(r.Points, func(p Point) bool { return p.Y != 0 }) {
		return name
	}
	return m.Voice.Say("picture.none", "name", name)
}

func (m Machine) kind(f cashmath.Face) string { return m.Voice.Kind(f) }

// Maker makes one picture of a machine.
type Maker func(Machine) (Sheet, error)

// Of finds a picture by its name: month, level, differences or faults. Nil for others.
func Of(name string) Maker {
	makers := map[string]Maker{"month": Month, "level": Level, "differences": Differences, "faults": Faults}
	return makers[name]
}
