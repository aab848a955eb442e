// Package bankdays counts the days on which banks pay, to say when the credit
// for a settlement is due. It is pure.
package bankdays

import (
	"time"

	"shopfloat/internal/shop"
)

// Known reports whether the bank holidays of a currency are known. Of another
// one only weekends are left out, and people are to be told so.
func Known(currency string) bool { return CalendarOf(currency).Source != "" }

// Open reports whether the banks of a currency pay on a date.
func Open(currency string, date shop.Date) bool {
	day, weekend := date.Weekday(), Weekend(currency)
	if day == weekend[0] || day == weekend[1] {
		return false
	}
	return !closedIn(currency, date.Time().Year())[date]
}

// Next is the first day on or after a date on which banks pay.
func Next(currency string, date shop.Date) shop.Date {
	for range lookAhead {
		if Open(currency, date) {
			return date
		}
		date = date.Add(1)
	}
	return date
}

// lookAhead bounds the days that banks may be closed in a row.
const lookAhead = 30

// Rule is what a bank and a shop agreed on.
type Rule struct {
	Days   int  // banking days until the credit, 1 or more
	CutOff int  // minutes after midnight; a settlement later than that is the next day's; 0: none
	Roll   bool // a settlement on a day without banking counts as the next banking day's
}

// Due is the date on which the credit for a settlement is due: the number of
// banking days after the day of the settlement. When that day is none itself,
// a rule that rolls moves it first to the next banking day, so that the credit
// is due one day later than with a rule that does not.
func (r Rule) Due(currency string, settled time.Time) shop.Date {
	date := shop.DateOf(settled)
	if r.CutOff > 0 && settled.Hour()*60+settled.Minute() > r.CutOff {
		date = date.Add(1)
	}
	return r.After(currency, date)
}

// After is the due date for a settlement that counts as a date's.
func (r Rule) After(currency string, date shop.Date) shop.Date {
	if r.Roll {
		date = Next(currency, date)
	}
	for range r.Days {
		date = Next(currency, date.Add(1))
	}
	return date
}
