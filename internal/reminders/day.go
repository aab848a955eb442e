package reminders

import (
	"fmt"
	"slices"
	"time"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/holidays"
	"shopfloat/internal/shop"
)

// Reason says why a shop does not trade on a day.
type Reason string

// The reasons.
const (
	Weekly  Reason = "weekly"  // closed that day of the week
	Public  Reason = "holiday" // a public holiday
	OneOff  Reason = "change"  // told in the chat
	Nobody  Reason = "off"     // nobody comes, the machine stays off
	Trading Reason = ""        // it does trade
)

// Day is what a shop plans for a date. A day that trades past midnight is the
// one it began on.
type Day struct {
	Date    shop.Date
	Closed  Reason
	Holiday string    // name of the public holiday, also when the shop trades
	Open    time.Time // zero when closed
	Close   time.Time
	Hours   shop.Hours // what Open and Close come from, with its pause; zero when closed
	Duty    shop.Duty
	Sudden  bool // closed only since that day: something may have been begun

	// Endless: the shop does not close. Open is when the figures of the day before are
	// printed, Close when those of this day are.
	Endless bool
}

// On gives a shop's plan for a date: the weekly hours, public holidays, and
// then the one-off changes in the order they were told.
func On(s *shop.Shop, date shop.Date) Day {
	weekly := s.Weekly(date)
	d := Day{Date: date, Duty: s.Plan.Duty[date.Weekday()]}
	var hours shop.Hours
	d.Holiday, hours, d.Closed = kept(s, date, weekly)
	if weekly == (shop.Hours{}) {
		d.Closed = Weekly
	}
	for _, c := range s.Plan.Changes {
		if c.From <= date && date <= c.To {
			d.apply(s, c, weekly, &hours)
		}
	}
	if d.Closed != Trading {
		return d
	}
	d.Hours = hours
	d.Open, d.Close = span(s.Location, date, hours)
	if figures, _, endless := s.Endless(); endless && hours == weekly {
		d.Endless = true
		d.Open, d.Close = round(s.Location, date, figures)
	}
	return d
}

// kept says what public holiday a date is and how the shop keeps it: the hours, or that it
// is closed. One that is doubtful is a day like others until somebody says how it is kept:
// with a day too many the shop trades and nobody is reminded.
func kept(s *shop.Shop, date shop.Date, usual shop.Hours) (name string, h shop.Hours, closed Reason) {
	day := holidays.At(s.Place(), date)
	chosen := s.Plan.Chosen(day.Name)
	if day.Sure != holidays.Some || chosen {
		name = day.Name
	}
	if day.Name == "" || day.Sure != holidays.Kept && !chosen && !s.Plan.TradesOnHolidays || name == "" {
		return name, usual, Trading
	}
	own, trades := s.Plan.OnHoliday(name, usual)
	if _, _, endless := s.Endless(); endless && len(s.Plan.Holidays) == 0 {
		trades = true // it never closes
	}
	if !trades {
		closed = Public
	}
	return name, own, closed
}

// Doubted names the public holiday of a date of which nobody has said how it is kept, where
// that is not sure; empty for none.
func Doubted(s *shop.Shop, date shop.Date) string {
	h := holidays.At(s.Place(), date)
	_, _, endless := s.Endless()
	if h.Sure == holidays.Kept || s.Plan.Chosen(h.Name) || s.Plan.TradesOnHolidays || endless ||
		s.Weekly(date) == (shop.Hours{}) {
		return ""
	}
	for _, c := range s.Plan.Changes {
		if c.From <= date && date <= c.To && (c.Usual || c.Silences() || c.Open != nil || c.Close != nil) {
			return ""
		}
	}
	return h.Name
}

// DoubtedBy is the holiday that is asked about on a date, AskedBy the other way round.
func DoubtedBy(date shop.Date) shop.Date { return date.Add(doubtAhead) }

// AskedBy names the task at which a holiday of a date is asked about.
func AskedBy(date shop.Date) Name { return Name{Date: date.Add(-doubtAhead), Task: Doubt} }

// comingFor is how far ahead, in days, the public holidays are listed.
const comingFor = 365

// Coming lists the public holidays of a place in the next twelve months, those that are
// doubtful among them, a name once.
func Coming(s *shop.Settings, from shop.Date) (list []holidays.Holiday) {
	seen := map[string]bool{}
	for date := from; date < from.Add(comingFor); date = date.Add(1) {
		if h := holidays.At(s.Place(), date); h.Name != "" && !seen[h.Name] {
			seen[h.Name] = true
			list = append(list, h)
		}
	}
	return list
}

// Keeps reports whether a shop is closed on a public holiday by what is laid down of
// holidays alone.
func Keeps(s *shop.Settings, h holidays.Holiday) bool {
	if h.Sure != holidays.Kept && !s.Plan.Chosen(h.Name) {
		return false
	}
	_, trades := s.Plan.OnHoliday(h.Name, shop.Hours{})
	return !trades
}

// Settle lays down how a doubtful holiday is kept: every year, or, where the moon decides,
// on that date alone, since the next may be another day.
func Settle(s *shop.Shop, date shop.Date, trades bool, by shop.PersonID, at time.Time) shop.Plan {
	h := holidays.At(s.Place(), date)
	if h.Sure == holidays.Moon {
		c := shop.Change{From: date, To: date, Closed: !trades, Usual: trades, By: by, At: at.UTC()}
		return s.Plan.With(c, Today(s, at))
	}
	return s.Plan.Choose(shop.HolidayChoice{Name: h.Name, Trades: trades})
}

// ShutOn lays down that a shop closes on a day of every year, MM-DD: on the public holiday
// that it is, or else by the day.
func ShutOn(s *shop.Settings, day string, today shop.Date) shop.Plan {
	date := today[:len("2026-")] + shop.Date(day)
	if date < today {
		date = shop.Date(fmt.Sprintf("%d-%s", today.Time().Year()+1, day))
	}
	if h := holidays.At(s.Place(), date); h.Name != "" {
		return s.Plan.Choose(shop.HolidayChoice{Name: h.Name})
	}
	season := shop.Season{From: day, To: day}
	for i := range season.Hours {
		season.Hours[i] = &shop.Hours{}
	}
	plan := s.Plan
	plan.Seasons = append(slices.Clone(plan.Seasons), season)
	return plan
}

// tablesEndWithin is how long, in days, before a table ends people are told.
const tablesEndWithin = 365

// TablesEnd says with which year the public holidays or the banking days of a shop end, if
// that is within twelve months of a date or past.
func TablesEnd(s *shop.Shop, today shop.Date) (year int, ends bool) {
	year = bankdays.CalendarOf(s.Currency).Until()
	if holidays.Known(s.Place()) && (year == 0 || holidays.Last < year) {
		year = holidays.Last
	}
	return year, year != 0 && today.Add(tablesEndWithin).Time().Year() > year
}

// EndsLine says so in a line for whoever looks after the computer; empty where it is far off.
func EndsLine(s *shop.Shop, now time.Time) string {
	year, ends := TablesEnd(s, dateOf(s, now))
	if !ends {
		return ""
	}
	return fmt.Sprintf("shop %d: holidays and banking days are known until %d only; a newer version of the "+
		"program is needed by then\n", s.ID, year)
}

// round gives the span of a day without an end: from figures to figures, under the date
// on which most of it lies.
func round(zone *time.Location, date shop.Date, figures int) (open, end time.Time) {
	if figures > halfDay {
		date = date.Add(-1)
	}
	return Instant(zone, date, figures), Instant(zone, date.Add(1), figures)
}

// halfDay is noon, in minutes after midnight.
const halfDay = 12 * 60

func (d *Day) apply(s *shop.Shop, c shop.Change, weekly shop.Hours, hours *shop.Hours) {
	if c.Silences() {
		d.Sudden = shop.DateOf(c.At.In(s.Location)) == d.Date
	}
	told := c.Open != nil || c.Close != nil
	switch {
	case c.Usual:
		*hours, d.Closed, d.Duty = weekly, Trading, s.Plan.Duty[d.Date.Weekday()]
		if weekly == (shop.Hours{}) {
			d.Closed = Weekly
		}
	case c.Off:
		d.Closed = Nobody
	case c.Closed:
		d.Closed = OneOff
	case told:
		if *hours == (shop.Hours{}) {
			*hours = anyHours(s)
		}
		d.Closed = Trading
		if c.Open != nil && c.Close != nil {
			*hours = shop.Hours{PauseFrom: c.PauseFrom, PauseTo: c.PauseTo}
		}
		set(&hours.Open, c.Open)
		set(&hours.Close, c.Close)
		*hours = whole(*hours)
	}
	if c.Duty.Opens != 0 {
		d.Duty.Opens = c.Duty.Opens
	}
	if c.Duty.Closes != 0 {
		d.Duty.Closes = c.Duty.Closes
	}
}

func set(minutes, to *int) {
	if to != nil {
		*minutes = *to
	}
}

// whole drops a pause that the hours of a day do not hold any more.
func whole(h shop.Hours) shop.Hours {
	if h.Split() && !h.Sound() {
		h.PauseFrom, h.PauseTo = 0, 0
	}
	return h
}

// anyHours are the hours of some day, for a day that has none of its own.
func anyHours(s *shop.Shop) shop.Hours {
	for _, h := range s.Hours {
		if h != (shop.Hours{}) {
			return h
		}
	}
	return usualHours()
}

// usualHours are those of a shop that has told none.
func usualHours() shop.Hours { return shop.Hours{Open: 9 * 60, Close: 18 * 60} }

// span turns hours into instants; a closing at or before the opening is on the
// next date.
func span(zone *time.Location, date shop.Date, h shop.Hours) (open, end time.Time) {
	until := h.Close
	if until <= h.Open {
		until += 24 * 60
	}
	return Instant(zone, date, h.Open), Instant(zone, date, until)
}

// Which day an instant belongs to is said here and nowhere else. What begins a day, an
// opening or a load, belongs to the day it is for: [DayOf]. Everything else, a count, a
// slip, a credit, belongs to the day it happens in: [Today]. Both go by the shop's plan of
// that version; whoever keeps what they say keeps it with the record.

// Today is the date whose trading an instant belongs to: the night of a shop
// that trades past midnight belongs to the date before. Where none does, the
// calendar says it, and no plan is made.
func Today(s *shop.Shop, now time.Time) shop.Date {
	if !s.Late() {
		return shop.DateOf(now.In(s.Location))
	}
	return today(s, on(s), now)
}

// DayOf is the day an opening at an instant is for: the day it falls on, or the
// next day of trading where there is none that day or it is over.
func DayOf(s *shop.Shop, opened time.Time) shop.Date { return dayOf(s, on(s), opened) }

// After is the next day of trading after a date, or the date after it when
// there is none within a week and a half.
func After(s *shop.Shop, date shop.Date) shop.Date { return after(on(s), date) }

// plan gives the plan of a date.
type plan func(shop.Date) Day

func on(s *shop.Shop) plan { return func(date shop.Date) Day { return On(s, date) } }

func today(s *shop.Shop, on plan, now time.Time) shop.Date {
	date := shop.DateOf(now.In(s.Location))
	for _, d := range []Day{on(date.Add(-1)), on(date)} { // those that may reach into it, the oldest first
		late := d.Close.Add(afterClose)
		if d.Closed != Trading || !now.Before(late) || d.Endless && now.Before(d.Open) {
			continue
		}
		if d.Date == date || d.Endless || shop.DateOf(d.Close.In(s.Location)) == date {
			return d.Date
		}
	}
	if d := on(date.Add(1)); d.Closed == Trading && d.Endless && !now.Before(d.Open.Add(afterClose)) {
		return d.Date
	}
	return date
}

func dayOf(s *shop.Shop, on plan, opened time.Time) shop.Date {
	date := today(s, on, opened)
	d := on(date)
	if tradesAllTheSame(s, d, opened) {
		return date
	}
	if d.Closed != Trading || opened.After(d.Close) {
		return after(on, date)
	}
	if next := on(date.Add(1)); ahead(next, d.Close, opened) {
		return next.Date
	}
	return date
}

// tradesAllTheSame reports whether what is opened on a day that was to be closed, a
// holiday or one that somebody called off, is meant for that very day: within the hours
// of such a day of the week. Later than that it is loaded for the next one.
func tradesAllTheSame(s *shop.Shop, d Day, opened time.Time) bool {
	usual := s.Weekly(d.Date)
	if d.Closed == Trading || d.Closed == Weekly || usual == (shop.Hours{}) {
		return false
	}
	_, end := span(s.Location, d.Date, usual)
	return opened.Before(end)
}

// ahead reports whether what is opened shortly before a day ends is meant for the next
// one, which begins at once.
func ahead(next Day, end, opened time.Time) bool {
	return next.Closed == Trading && !next.Open.After(end) && !opened.Before(end.Add(-beforeOpen))
}

// lookAround bounds, in days, how far the neighbours of a day are looked for.
const lookAround = 10

func after(on plan, date shop.Date) shop.Date {
	for ahead := 1; ahead <= lookAround; ahead++ {
		if next := date.Add(ahead); on(next).Closed == Trading {
			return next
		}
	}
	return date.Add(1)
}

// SlipDay is the day of a slip of a period that is told under a day: the date on
// which it was printed. A night before anybody could trade again belongs to the
// date before, so that a slip is never told before its period.
func SlipDay(s *shop.Shop, period shop.Date, at time.Time) shop.Date {
	date := Today(s, at)
	for ; date > period; date = date.Add(-1) {
		begins := On(s, date).Open
		if begins.IsZero() {
			begins = Instant(s.Location, date, halfDay)
		}
		if !at.Before(begins) {
			return date
		}
	}
	return period
}
