package reminders

import (
	"cmp"
	"slices"

	"shopfloat/internal/bankdays"
	"shopfloat/internal/shop"
)

// Concern is something that an owner may be told of.
type Concern string

// What an owner hears of at once.
const (
	Danger     Concern = "danger"
	Difference Concern = "difference" // more than the shop lets pass
	Stuck      Concern = "stuck"      // a record that nobody can finish
	FileDoubt  Concern = "file"       // whether the file is whole
	NewKey     Concern = "key"        // another phone or personal code
)

// What waits for the letter of the week.
const (
	Closed   Concern = "closed"   // a day was closed, and the difference is none or small
	Changed  Concern = "changed"  // a record was corrected, settings or hours were changed
	LateBank Concern = "bank"     // money of the bank did not come, see [LongOwed]
	Noted    Concern = "noted"    // a visit, somebody counted alone, a second count
	Upcoming Concern = "upcoming" // holidays, days without a bank
)

// AtOnce reports whether an owner is told of something when it happens. All else waits
// for the letter: whoever is told of everything reads nothing.
func AtOnce(c Concern) bool {
	return slices.Contains([]Concern{Danger, Difference, Stuck, FileDoubt, NewKey}, c)
}

// LetterLines is the most lines that a weekly letter has.
const LetterLines = 12

// Week is how the week of a machine went, as far as its place in a letter depends on it.
type Week struct {
	Apart    int // closings with a difference above what the shop lets pass
	Unclosed int // records that are not finished
	LongOwed int // credits that are more than ten banking days late
	Missed   int // tasks that were not done in time
	Changes  int // corrections, and counts taken back
	Small    int // closings with a difference within what the shop lets pass
}

// weight orders weeks: what costs money first, then what is unfinished, then habits.
func (w Week) weight() [6]int {
	return [6]int{w.Apart, w.Unclosed, w.LongOwed, w.Missed, w.Changes, w.Small}
}

// Well reports whether nothing is to be said of a week.
func (w Week) Well() bool { return w == Week{} }

// WorstFirst orders the machines of a letter; those that are alike stay as they were.
func WorstFirst(weeks []Week) (order []int) {
	for i := range weeks {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := weeks[a].weight(), weeks[b].weight()
		return -slices.Compare(x[:], y[:])
	})
	return order
}

// longGap is how many days without a bank in a row are spoken of before they come: an
// ordinary weekend is two.
const longGap = 3

// gapAhead is how far, in days, a letter looks for them: past the next letter, so that
// there is a week to order in.
const gapAhead = 14

// A Gap is a number of days in a row on which the banks of a currency are closed.
type Gap struct {
	First, Last shop.Date
	OrderBy     shop.Date // the last banking day before
}

// NextGap finds the first three or more days without a bank that begin within two weeks
// after a date. One whose last banking day before has gone by is not among them.
func NextGap(currency string, from shop.Date) (g Gap, ok bool) {
	for date := from.Add(1); date <= from.Add(gapAhead); date = date.Add(1) {
		if bankdays.Open(currency, date) || !bankdays.Open(currency, date.Add(-1)) {
			continue
		}
		g = Gap{First: date, Last: bankdays.Next(currency, date).Add(-1), OrderBy: date.Add(-1)}
		if days(g.First, g.Last) >= longGap {
			return g, true
		}
	}
	return Gap{}, false
}

func days(from, to shop.Date) int { return int(to.Time().Sub(from.Time()).Hours()/24) + 1 }

// Site is a machine whose owner gets a letter, as far as it matters who sends it.
type Site struct {
	Shop    *shop.Shop
	Machine shop.MachineID
	InUse   bool // something was recorded in the week before
}

// Writes finds the machine with whose deadline the letter over all of an owner's machines
// goes out: the first one that is in use, of the shops that want a letter. Without one
// there is no letter.
func Writes(sites []Site) (id shop.MachineID, ok bool) {
	sites = slices.DeleteFunc(slices.Clone(sites), func(x Site) bool {
		return !x.InUse || x.Shop.Plan.Summary == "off"
	})
	if len(sites) == 0 {
		return 0, false
	}
	first := slices.MinFunc(sites, func(a, b Site) int {
		return cmp.Or(cmp.Compare(a.Shop.ID, b.Shop.ID), cmp.Compare(a.Machine, b.Machine))
	})
	return first.Machine, true
}
