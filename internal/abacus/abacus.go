// Package abacus works out anew what the books say of a machine, by brute force:
// each figure from all records, with sums that a person could do on paper. It
// shares no arithmetic with the books, so that the two can be held against each
// other. Tests alone import it.
package abacus

import (
	"cmp"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/stand"
)

// Cents is money in hundredths.
type Cents = int64

// Of gives money in hundredths.
func Of(d decimal.Decimal) Cents { return d.Shift(2).IntPart() }

// kinds counts notes by face.
type kinds map[cashmath.Face]int64

func (k kinds) worth() (sum Cents) {
	for face, notes := range k {
		sum += Of(decimal.RequireFromString(string(face))) * notes
	}
	return sum
}

// record is one that holds, at the place where it takes effect.
type record struct {
	books.Record
	seq   int64
	at    float64 // its own number, or just before the record it was moved in front of
	moved bool    // to another period than it was written for
}

// bank are records of what the bank did, which stands whatever became of a day.
var bank = []books.Kind{books.Credit, books.Debit, books.Matched, books.WriteOff}

// holding gives the records that hold, in the order in which they take effect.
func holding(entries []books.Entry) []record {
	undone, instead := map[int64]bool{}, map[int64]*books.Entry{}
	for i := range entries {
		if e := &entries[i]; e.Kind == books.Undo {
			undone[e.Target] = true
		}
	}
	for i := range entries {
		if e := &entries[i]; e.Kind == books.Correction && !undone[e.Seq] {
			instead[e.Target] = e
		}
	}
	var list []record
	for i := range entries {
		e := &entries[i]
		if e.Kind == books.Undo || e.Kind == books.Correction || undone[e.Seq] ||
			undone[e.Period] && !slices.Contains(bank, e.Kind) {
			continue
		}
		r := record{Record: e.Record, seq: e.Seq, at: float64(e.Seq)}
		switch by := instead[e.Seq]; {
		case by == nil:
		case by.Instead == nil:
			continue
		default:
			r.Record = *by.Instead
			r.Day = cmp.Or(r.Day, e.Day)
			if r.moved = r.Period != e.Period; r.moved {
				r.at = before(entries, undone, list, r, by.Seq)
			}
		}
		list = append(list, r)
	}
	slices.SortStableFunc(list, func(a, b record) int { return cmp.Compare(a.at, b.at) })
	return list
}

// before places a record that was moved to another period: while that was still
// going on, and no later than when it was moved. A slip stays where it was if the
// period had begun; all else comes before the first slip, be it one that was moved
// there too and is older.
func before(entries []books.Entry, undone map[int64]bool, placed []record, r record, moved int64) float64 {
	slip := r.Kind == books.Settlement
	if slip {
		moved = max(r.seq, r.Period) + 1
	}
	at := float64(moved) - 0.5
	for _, s := range placed {
		if s.moved && s.Kind == books.Settlement && s.Period == r.Period && !slip {
			at = min(at, s.at-0.25)
		}
	}
	for i := range entries {
		e := &entries[i]
		ends := e.Kind == books.Close || (e.Kind == books.Count || e.Kind == books.Settlement) && !slip
		if e.Period == r.Period && ends && !undone[e.Seq] {
			return min(at, float64(e.Seq)-0.5)
		}
	}
	return at
}

// Sheet is all that the records of a machine come to.
type Sheet struct {
	Days   map[int64]*Day   // each period, by its number
	Claims map[int64]*Claim // each slip that the bank is to pay, by its number
	Float  Float
}

// Day is one period.
type Day struct {
	Date       shop.Date
	Slips      []Slip
	Counted    bool
	Closed     bool
	Complete   bool // the difference is known
	Difference Cents
	ByKind     map[cashmath.Face]int64 // where slips told kinds
	Verdict    cashmath.Verdict

	in, out, tray, path kinds
	left                map[int]int64 // notes in each box, by position
	faces               map[int]cashmath.Face
	owned               map[int]int64 // in each box by what was put in and taken out by hand
	beyond              Cents         // taken out of boxes that had no more by what is known

	tests        kinds // notes of tests that the machine counts as paid out, not on a slip yet
	noTray       bool  // the box for refused notes was not counted
	amounts      bool  // a slip tells sums of money only
	cut          bool  // what was paid out before a restart is missing
	paper        bool  // entered late
	taken, empty bool  // what it left was taken over by the next; was taken out
}

// Slip is what one settlement printed.
type Slip struct {
	Seq       int64
	Day       shop.Date
	Paid      Cents
	Cancelled Cents
	Due       Cents
	paid      kinds // less cancelled and tests; nil where it tells sums
}

// Claim is what the bank owes for one slip.
type Claim struct {
	Day                  shop.Date
	Value, Paid, GivenUp Cents
}

// Float is where the money is, and what it differs by from what was put in.
type Float struct {
	Inside, Cash, Till, ByBank, Taken, Brought, Came Cents
	Gaps                                             map[stand.Reach]Cents
	Debts                                            Cents // of the till
}

// Recount works a machine's records out anew. Those that happened at an end or
// later are left out, unless it is the zero time.
func Recount(entries []books.Entry, end time.Time) *Sheet {
	s := &sheet{Sheet: Sheet{Days: map[int64]*Day{}, Claims: map[int64]*Claim{}}}
	s.Float.Gaps = map[stand.Reach]Cents{}
	for _, r := range holding(entries) {
		begun := r.Period == 0 || s.Days[r.Period] != nil || slices.Contains(bank, r.Kind)
		if begun && (end.IsZero() || r.Happened.Before(end)) {
			s.take(r)
			s.Float.Taken = max(s.Float.Taken, -s.cash)
		}
	}
	s.pay(entries, end)
	s.sum()
	return &s.Sheet
}
