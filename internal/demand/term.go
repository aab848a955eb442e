package demand

import (
	"math"
	"time"
)

// Kind says what a term of a forecast stands for.
type Kind uint8

// Kinds of terms. The chat words them.
const (
	Usual     Kind = iota // what this weekday usually asks for, in Notes
	MonthEdge             // first or last days of the month; Offset 1 to 4, or -1 for the last day to -4
	Payday                // last working day of the month, Offset 0, or the day after, Offset 1
	Easter                // Offset in days from Easter Sunday
	Christmas             // 15 December to 6 January; Offset in days from 25 December
	Public                // any other public holiday: Name, Offset -1 the day before to 1 the day after
	Recent                // what the days since Since were above or below usual
	Growth                // growth or decline of the last weeks, carried on
	LastYear              // what last year's movement adds from here on
)

// Term is one reason in a forecast. The Notes of the first times the Factors of
// the others are the forecast's Mean.
type Term struct {
	Kind   Kind
	Factor float64 // 1.09 is +9 %
	Notes  float64 // of Usual only
	Name   string  // of Public, or of the day itself where it is a public holiday
	Offset int     // days, see Kind
	Since  Day     // of Recent only: first day of the present run
}

// terms of a day, the usual level first.
func (m *Model) terms(day Day, ahead int) []Term {
	e := &m.evening
	w := &e.weekdays[day.Weekday()]
	usual := e.level.Level + w.usual + w.lately*math.Pow(latelyKeep, float64((ahead+6)/7)) + lift
	if ahead > 1 {
		usual += liftFar
	}
	terms := []Term{{Kind: Usual, Factor: 1, Notes: math.Exp(usual)}}
	terms = append(terms, m.calendarTerms(day)...)
	year := 0.0
	for i := m.days; i < m.days+ahead; i++ {
		year += m.steps[i]
	}
	year += e.spread(int(day.Weekday())) * m.echo.of(m.days-1+ahead)
	return append(terms,
		Term{Kind: Recent, Factor: math.Exp(e.recent * math.Pow(recentKeep, float64(ahead))), Since: e.since},
		Term{Kind: Growth, Factor: math.Exp(e.level.Ahead(ahead, growthKeep))},
		Term{Kind: LastYear, Factor: math.Exp(year)},
	)
}

func (m *Model) calendarTerms(day Day) []Term {
	marks := m.calendar.at(day)
	var terms []Term
	if k := marks.special; k != ordinary {
		terms = append(terms, m.calendar.holidayTerm(day, k))
	}
	if k := marks.month; k != ordinary {
		terms = append(terms, Term{Kind: MonthEdge, Offset: monthOffset(k)})
	}
	if k := marks.payday; k == paydayAfter {
		terms = append(terms, Term{Kind: Payday, Offset: 1})
	} else if k != ordinary {
		terms = append(terms, Term{Kind: Payday})
	}
	for i := range terms {
		terms[i].Factor = math.Exp(m.effectOf(terms[i].Kind, marks))
	}
	return terms
}

func (m *Model) effectOf(kind Kind, day marks) float64 {
	switch kind {
	case MonthEdge:
		return m.learned[day.month]
	case Payday:
		return m.learned[day.payday]
	}
	return m.learned[day.special]
}

// monthOffset counts from the first day, 1, or from the last, -1.
func monthOffset(k class) int {
	if k < monthFirst+monthDays {
		return int(k-monthFirst) + 1
	}
	return int(k-monthLast) - 1
}

func (c *Calendar) holidayTerm(day Day, k class) Term {
	year, _, _ := day.Date()
	switch {
	case k.easter():
		return Term{Kind: Easter, Offset: int(day - easter(year)), Name: c.names[day]}
	case k.christmas():
		offset := int(day - DayOf(year, time.December, 25))
		if offset < -christmasDaysBefore {
			offset = int(day - DayOf(year-1, time.December, 25))
		}
		return Term{Kind: Christmas, Offset: offset, Name: c.names[day]}
	}
	offset := int(k - publicHoliday)
	return Term{Kind: Public, Offset: offset, Name: c.names[day-Day(offset)]}
}
