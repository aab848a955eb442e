package demand

import "time"

// Holiday is one public holiday of the shop's country.
type Holiday struct {
	Day  Day
	Name string // as the country calls it; shown to people
}

// Calendar knows what is special about the days of a span. It does not change
// after NewCalendar and may be shared.
type Calendar struct {
	first Day
	days  []marks
	names map[Day]string
}

// marks are the classes of one day; any of them may be ordinary.
type marks struct {
	special class // Christmas season, Easter or another public holiday
	month   class // first and last days of the month
	payday  class // last working day of the month and the day after
}

// NewCalendar marks the days from first to last, both included. Christmas and
// Easter count only where the country keeps them: 25 December, and Good
// Friday or Easter Monday, must be among the holidays. Give the holidays of the
// years around the span too, so that its first and last days know their neighbours.
func NewCalendar(first, last Day, holidays []Holiday) *Calendar {
	c := &Calendar{first: first, days: make([]marks, max(int(last-first)+1, 0)), names: map[Day]string{}}
	for _, h := range holidays {
		c.names[h.Day] = h.Name
	}
	c.markHolidays(holidays)
	firstYear, _, _ := first.Date()
	lastYear, _, _ := last.Date()
	for year := firstYear - 1; year <= lastYear; year++ {
		c.markEaster(easter(year))
		c.markChristmas(DayOf(year, time.December, 25))
	}
	for i := range c.days {
		if !c.days[i].special.christmas() {
			c.days[i].month = monthClass(first + Day(i))
			c.days[i].payday = c.paydayClass(first + Day(i))
		}
	}
	return c
}

// at returns the marks of a day; a day outside the span is ordinary.
func (c *Calendar) at(day Day) marks {
	if i := int(day - c.first); i >= 0 && i < len(c.days) {
		return c.days[i]
	}
	return marks{}
}

func (c *Calendar) mark(day Day, as class) {
	if i := int(day - c.first); i >= 0 && i < len(c.days) {
		c.days[i].special = as
	}
}

// markHolidays goes from weak to strong: a holiday is more than a day after.
func (c *Calendar) markHolidays(holidays []Holiday) {
	for _, h := range holidays {
		c.mark(h.Day-1, holidayBefore)
	}
	for _, h := range holidays {
		c.mark(h.Day+1, holidayAfter)
	}
	for _, h := range holidays {
		c.mark(h.Day, publicHoliday)
	}
}

func (c *Calendar) markEaster(sunday Day) {
	if c.names[sunday-2] == "" && c.names[sunday+1] == "" {
		return
	}
	for k := Day(-easterDaysBefore); k <= easterDaysAfter; k++ {
		c.mark(sunday+k, easterFirst+class(k+easterDaysBefore))
	}
}

func (c *Calendar) markChristmas(christmas Day) {
	if c.names[christmas] == "" {
		return
	}
	for k := Day(-christmasDaysBefore); k <= christmasDaysAfter; k++ {
		c.mark(christmas+k, christmasFirst+class(k+christmasDaysBefore))
	}
}

func monthClass(day Day) class {
	year, month, dayOfMonth := day.Date()
	fromEnd := int(DayOf(year, month+1, 1)-day) - 1 // 0 on the last day
	switch {
	case dayOfMonth <= monthDays:
		return monthFirst + class(dayOfMonth-1)
	case fromEnd < monthDays:
		return monthLast - class(fromEnd)
	}
	return ordinary
}

// paydayClass marks the last working day of the month, on which wages are
// usual (common practice, no source), and the day after it.
func (c *Calendar) paydayClass(day Day) class {
	switch {
	case day == c.lastWorkingDay(day) && day.Weekday() == time.Friday:
		return paydayFriday
	case day == c.lastWorkingDay(day):
		return payday
	case day-1 == c.lastWorkingDay(day-1):
		return paydayAfter
	}
	return ordinary
}

func (c *Calendar) lastWorkingDay(inMonthOf Day) Day {
	year, month, _ := inMonthOf.Date()
	day := DayOf(year, month+1, 1) - 1
	for day.Weekday() == time.Saturday || day.Weekday() == time.Sunday || c.names[day] != "" {
		day--
	}
	return day
}
