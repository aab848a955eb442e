package demand

// Holiday is one public holiday of the shop's country.
type Holiday struct {
	Day  Day
	Name string // as the country calls it; shown to people
}

// class says what is special about a day. Every class has one learned effect.
type class int8

// The classes in the order of the effects table. Dates of the Christmas
// season and days around Easter have a class each because no two of them
// behave alike.
const (
	ordinary       class = 0
	easterFirst    class = 1  // four days before Easter Sunday
	easterLast     class = 7  // two days after
	holidayBefore  class = 8  // the day before any other public holiday
	publicHoliday  class = 9  // any other public holiday
	holidayAfter   class = 10 // the day after
	christmasFirst class = 11 // 15 December
	christmasLast  class = 33 // 6 January
	monthFirst     class = 34 // first of the month
	monthFirstEnd  class = 37 // fourth of the month
	monthLastStart class = 38 // fourth last day of the month
	monthLast      class = 41 // last of the month
	classes              = 42
)

const easterDaysBefore, easterDaysAfter = 4, 2

// Calendar knows what is special about the days of a span. It does not change
// after NewCalendar and may be shared.
type Calendar struct {
	first   Day
	special []class // Easter, public holidays, Christmas season
	month   []class // first and last days of the month
	names   map[Day]string
}

// NewCalendar marks the days from first to last, both included. Christmas and
// Easter count only where the country keeps them: 25 December, and Good
// Friday or Easter Monday, must be among the holidays. Holidays outside the span
// are ignored, but give a month on either side so that its neighbours are known.
func NewCalendar(first, last Day, holidays []Holiday) *Calendar {
	n := max(int(last-first)+1, 0)
	c := &Calendar{first: first, special: make([]class, n), month: make([]class, n), names: map[Day]string{}}
	for _, h := range holidays {
		c.names[h.Day] = h.Name
	}
	for _, h := range holidays {
		c.mark(h.Day-1, holidayBefore)
	}
	for _, h := range holidays {
		c.mark(h.Day+1, holidayAfter)
	}
	for _, h := range holidays {
		c.mark(h.Day, publicHoliday)
	}
	firstYear, _, _ := first.Date()
	lastYear, _, _ := last.Date()
	for year := firstYear - 1; year <= lastYear+1; year++ {
		c.markYear(year)
	}
	for i := range c.month {
		c.month[i] = monthClass(first + Day(i))
		if s := c.special[i]; s >= christmasFirst && s <= christmasLast {
			c.month[i] = ordinary
		}
	}
	return c
}

// markYear overlays Easter and the Christmas season that starts in year.
func (c *Calendar) markYear(year int) {
	sunday := easter(year)
	if c.names[sunday-2] != "" || c.names[sunday+1] != "" {
		for k := Day(-easterDaysBefore); k <= easterDaysAfter; k++ {
			c.mark(sunday+k, easterFirst+class(k+easterDaysBefore))
		}
	}
	christmas := DayOf(year, 12, 25)
	if c.names[christmas] != "" {
		for k := Day(0); k <= Day(christmasLast-christmasFirst); k++ {
			c.mark(DayOf(year, 12, 15)+k, christmasFirst+class(k))
		}
	}
}

func (c *Calendar) mark(day Day, as class) {
	if i := int(day - c.first); i >= 0 && i < len(c.special) {
		c.special[i] = as
	}
}

func monthClass(day Day) class {
	year, month, dayOfMonth := day.Date()
	fromEnd := int(DayOf(year, month+1, 1)-day) - 1 // 0 on the last day
	switch {
	case dayOfMonth <= 4:
		return monthFirst + class(dayOfMonth-1)
	case fromEnd < 4:
		return monthLast - class(fromEnd)
	}
	return ordinary
}

// at returns both classes of a day; a day outside the span is ordinary.
func (c *Calendar) at(day Day) (special, month class) {
	i := int(day - c.first)
	if i < 0 || i >= len(c.special) {
		return ordinary, ordinary
	}
	return c.special[i], c.month[i]
}
