// Package telling words what is on record of a machine: a period and how it
// ended, why it may not balance, what the bank owes, what was done and when. It
// asks nothing and writes nothing, so whoever has the books and the texts can
// tell them: dialogs, letters, files.
package telling

import (
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/guides"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/tasks"
	"shopfloat/internal/texts"
)

// A Teller tells of one machine of a shop to one person, at one time.
type Teller struct {
	V      *texts.Voice
	F      chat.Facts
	M      *books.Machine // the books
	Kit    *shop.Machine  // the machine itself
	Now    time.Time
	Guides guides.Library
	Book   tally.Writer // of workbooks; nil: there is none
	Hides  func() bool  // what should be in the machine stays unseen; nil: it never does
	unseen []int64      // periods of which claims are left out

	sought decimal.Decimal // the sum for which what it may be for is at hand

	since struct { // what was read last to tell of the days from one on
		from    shop.Date
		then    *books.Machine
		entries []books.Entry
	}
}

// Hidden reports whether nobody may see now what should be in the machine.
func (t *Teller) Hidden() bool { return t.Hides != nil && t.Hides() }

// GuideTitle names a guide.
func (t *Teller) GuideTitle(id string) string {
	if g, ok := t.Guides.Guide(id); ok {
		return g.Title
	}
	return id
}

// Local puts a time on the shop's clock.
func (t *Teller) Local(at time.Time) time.Time { return at.In(t.F.Shop.Location) }

// OnDate is the same time of day on another date.
func (t *Teller) OnDate(at time.Time, date shop.Date) time.Time {
	l := t.Local(at)
	return reminders.Instant(t.F.Shop.Location, date, l.Hour()*60+l.Minute()).UTC()
}

// Clock writes a time, with the day when it is not today.
func (t *Teller) Clock(at time.Time) string {
	l, now := t.Local(at), t.Local(t.Now)
	if SameDay(l, now) {
		return t.V.Clock(l)
	}
	return t.V.Day(l) + ", " + t.V.Clock(l)
}

// DayClock writes a time with its day.
func (t *Teller) DayClock(at time.Time) string {
	l := t.Local(at)
	return t.V.Day(l) + ", " + t.V.Clock(l)
}

// ClockOf writes the time of what is recorded under a day, with a day of its own where that is another.
func (t *Teller) ClockOf(day shop.Date, at time.Time) string {
	if l := t.Local(at); shop.DateOf(l) == day {
		return t.V.Clock(l)
	}
	return t.DayClock(at)
}

func SameDay(a, b time.Time) bool { return a.Year() == b.Year() && a.YearDay() == b.YearDay() }

// Name gives a person's name; somebody who left keeps it in their records.
func (t *Teller) Name(id shop.PersonID) string {
	if p, ok := t.F.Shop.Known(id); ok {
		return t.Called(p)
	}
	return t.V.Say("somebody")
}

// Called is a person's name, or what stands for it once it is erased.
func (t *Teller) Called(p shop.Person) string {
	if p.Name == "" {
		return t.Pseudonym(p.ID)
	}
	return p.Name
}

// Pseudonym stands for somebody whose name was erased, the same everywhere.
func (t *Teller) Pseudonym(id shop.PersonID) string {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	code := make([]byte, 0, 4)
	for n := uint64(id); len(code) < cap(code); n /= uint64(len(letters)) {
		code = append(code, letters[n%uint64(len(letters))])
	}
	return t.V.Say("pseudonym", "code", string(code))
}

// Which names the machine where a shop has several.
func (t *Teller) Which() string {
	if len(t.F.Shop.Machines) < 2 {
		return ""
	}
	return t.V.Say("due.machine", "machine", t.Kit.Name)
}

// DayOf is the day of trading a period is for, as it was recorded.
func (t *Teller) DayOf(p *books.Period) shop.Date { return tasks.DayOf(t.F.Shop, p) }

// Today is the date whose trading is under way.
func (t *Teller) Today() shop.Date { return reminders.Today(t.F.Shop, t.Now) }

// Button makes a row of one button; the label is a catalogue name.
func (t *Teller) Button(label, choice string, fill ...any) []chat.Button {
	return []chat.Button{{Label: t.V.Say("button."+label, fill...), Data: choice}}
}

// stale is how old a dialog is that no longer gets in anybody's way: somebody
// walked off. A count that is overtaken is shown again before it books.
const stale = 3 * time.Hour

func (t *Teller) Stale(a chat.Activity) bool { return t.Now.Sub(a.Since) >= stale }

// Digits is how many digits stand after the decimal mark of the shop's money.
func (t *Teller) Digits() int {
	cur, err := cashmath.LookupCurrency(t.F.Shop.Currency)
	if err != nil {
		return 2
	}
	return int(cur.Digits())
}

// Where names the shop, and the machine where there are several.
func Where(t *Teller) string {
	if len(t.F.Shop.Machines) > 1 && t.Kit != nil {
		return t.V.Say("place", "shop", t.F.Shop.Name, "machine", t.Kit.Name)
	}
	return t.F.Shop.Name
}
