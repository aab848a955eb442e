package when

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"shopfloat/internal/shop"
)

// Reason says why a text could not be read.
type Reason string

// The reasons.
const (
	OK         Reason = ""
	Unknown    Reason = "unknown"    // it names nothing of the kind
	Impossible Reason = "impossible" // there is no such day or time: 31 February, 25:00
	Ambiguous  Reason = "ambiguous"  // it can be read in two ways: 3/4 where the order is not known
)

// Lean says which day a name without a year stands for.
type Lean uint8

// The leans. Today itself is always among them.
const (
	Ahead  Lean = iota // the next one of that name
	Back               // the last one of that name
	Lately             // the last one if it is no more than LatelyDays ago, else that of this year
)

// LatelyDays is how far back, in days, Lately looks.
const LatelyDays = 62

// Words are the words of a language, in small letters. An entry may be several
// words; names of days and months may be cut to three letters or more.
type Words struct {
	Today, Tomorrow, Yesterday, Last []string
	On, Lead                         []string // said before a day: on; before a past one: for, of
	Until, To, And, At               []string
	Every, EveryDay, Closed, Month   []string
	TwoAgo, InTwo                    []string // the day before yesterday, the day after tomorrow
	This, Next, Week, Of, The        []string
	Ordinals                         []string // 31, first to thirty first
	Ago, WeeksAgo, Few               []string // 3 days ago; 3 weeks ago; one to seven in words
	EndOf, Year                      []string // the end of november; last year
	Feasts                           []string // 12-25 christmas: month and day, then a name; e1: by Easter
	Lunch                            []string // said before a pause
	FeastDays                        []string // the first and the last, then what they are called: e-2 e1 easter
	Workdays, Weekend                []string // monday to friday; saturday and sunday
	Round, Noon, Midnight            []string // open without an end; 12:00; 24:00
	Open, Closes                     []string // said before hours: we are open from; and closes
	Except, Else                     []string // not on; on all other days
	ClockHours                       []string // one to twelve
	Half, QuarterPast, QuarterTo     []string // half past, said before an hour
	Clocks                           []string // said behind an hour: o'clock
	Early, Late, ByNight             []string // in the morning; in the evening; at night
	During, DayOff                   []string // said before a month: in; mondays off
	Around, Since                    []string // said before days: over; and before those without an end: from
	Onward                           []string // said behind the first of these: on
	ForHowLong, Units                []string // for the next; day, days, week, weeks, night, nights
	OneWeekend, WeekAfter, AllWeek   []string // the weekend; the week after next; all week
	Weekdays                         []string // seven, Sunday first
	Months                           []string // twelve
}

// WordsOf takes the words out of a catalogue, which gives a list by its name.
func WordsOf(list func(name string) []string) *Words {
	return &Words{
		Today: list("words.today"), Tomorrow: list("words.tomorrow"), Yesterday: list("words.yesterday"),
		Last: list("words.last"), On: list("words.on"), Lead: list("words.for-day"),
		Until: list("words.until"), To: list("words.to"), And: list("words.and"), At: list("words.at"),
		Every: list("words.every"), EveryDay: list("words.every-day"), Closed: list("words.closed"),
		Month:  list("words.month"),
		TwoAgo: list("words.two-days-ago"), InTwo: list("words.in-two-days"), This: list("words.this"),
		Next: list("words.next"), Week: list("words.week"), Of: list("words.of"), The: list("words.the"),
		Ordinals: list("words.ordinals"), Ago: list("words.days-ago"), WeeksAgo: list("words.weeks-ago"),
		Few: list("words.few"), EndOf: list("words.end-of"), Year: list("words.year"), Feasts: list("words.feasts"),
		Lunch:     list("words.lunch"),
		FeastDays: list("words.feast-days"),
		Workdays:  list("words.workdays"), Weekend: list("words.weekend"), Round: list("words.round"),
		Noon: list("words.noon"), Midnight: list("words.midnight"), Open: list("words.open-from"),
		Closes: list("words.closes"),
		Except: list("words.except"), Else: list("words.otherwise"), ClockHours: list("words.clock-hours"),
		Half: list("words.half-past"), QuarterPast: list("words.quarter-past"),
		QuarterTo: list("words.quarter-to"), Clocks: list("words.o-clock"), Early: list("words.early"),
		Late: list("words.late"), ByNight: list("words.by-night"), During: list("words.during"),
		DayOff: list("words.day-off"), Around: list("words.around-days"), Since: list("words.since"),
		Onward:     list("words.onward"),
		ForHowLong: list("words.for-how-long"), Units: list("words.units"),
		OneWeekend: list("words.one-weekend"), WeekAfter: list("words.week-after-next"),
		AllWeek:  list("words.all-week"),
		Weekdays: list("words.weekdays"), Months: list("words.months"),
	}
}

// Reader reads what somebody types on a day, in their language, in a country.
type Reader struct {
	Words    *Words
	Today    shop.Date
	Order    Order
	Usual    *[7]shop.Hours // those of the week, from which an end is taken that was not said; nil: not known
	Orthodox bool           // Easter is that of the eastern churches, see [KeepsOrthodox]
	Alone    bool           // a number that stands alone is a day of a month, where days that have been are read
}

// Weekday reads the name of a day of the week, and nothing else.
func (r Reader) Weekday(s string) (time.Weekday, bool) {
	toks := lex(s)
	if len(toks) != 1 {
		return 0, false
	}
	day := nameIn(r.Words.Weekdays, toks[0].text)
	return time.Weekday(max(day, 0)), day >= 0
}

// leastLetters is how much of the name of a day or month must stand there.
const leastLetters = 3

// nameIn finds a name by its beginning; -1 for none, and where two begin so.
func nameIn(names []string, word string) int {
	if utf8.RuneCountInString(word) < leastLetters {
		return -1
	}
	if i := slices.Index(names, word); i >= 0 {
		return i
	}
	found := -1
	for i, name := range names {
		if !strings.HasPrefix(name, word) {
			continue
		}
		if found >= 0 {
			return -1
		}
		found = i
	}
	return found
}
