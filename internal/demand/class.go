package demand

// class says what is special about a day. Every class has one learned effect.
type class int8

// How far the seasons reach, in days.
const (
	easterDaysBefore, easterDaysAfter       = 4, 2   // of Easter Sunday
	christmasDaysBefore, christmasDaysAfter = 10, 12 // of 25 December: 15 December to 6 January
	monthDays                               = 4      // at either end of a month
)

// The classes in the order of the effects table. Days around Easter and dates
// of the Christmas season have a class each: no two of them behave alike.
const (
	ordinary       class = 0
	easterFirst    class = 1
	easterLast           = easterFirst + easterDaysBefore + easterDaysAfter
	holidayBefore        = easterLast + 1 // the day before any other public holiday
	publicHoliday        = easterLast + 2 // any other public holiday
	holidayAfter         = easterLast + 3 // the day after
	christmasFirst       = easterLast + 4
	christmasLast        = christmasFirst + christmasDaysBefore + christmasDaysAfter
	monthFirst           = christmasLast + 1
	monthLast            = monthFirst + 2*monthDays - 1
	payday               = monthLast + 1 // last working day of the month, not a Friday
	paydayFriday         = monthLast + 2 // last working day, a Friday
	paydayAfter          = monthLast + 3 // the day after
	classes              = int(paydayAfter) + 1
)

func (k class) christmas() bool { return k >= christmasFirst && k <= christmasLast }
func (k class) easter() bool    { return k >= easterFirst && k <= easterLast }

// group gathers the classes that are believed alike.
type group int8

const (
	groupEaster group = iota
	groupHoliday
	groupChristmas
	groupMonth
	groupPayday
	groups
)

func (k class) group() group {
	switch {
	case k <= easterLast:
		return groupEaster
	case k < christmasFirst:
		return groupHoliday
	case k <= christmasLast:
		return groupChristmas
	case k < payday:
		return groupMonth
	}
	return groupPayday
}
