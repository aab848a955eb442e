package advice

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// StateVersion is the form of a [State]. One of another form is learned anew.
const StateVersion = 2

// Bounds of what is kept, in days before the newest closed period. What advice goes by is
// the first of each; the rest is for what is taken back and told anew.
const (
	learnDays = 1100 // three years, so that each feast was seen three times
	spareDays = 60
	oneDay    = 24 * time.Hour
	tillDays  = takingDays + spareDays
)

// State is what a machine's ledger tells advice, up to an entry: facts that do not depend
// on the shop's settings, as much of them as advice goes by. It goes on from day to day, and
// what was added one by one is what all records tell at once.
type State struct {
	Version  int
	Seq      int64 // the last entry that is in it
	Days     []Closed
	Tills    []Brought
	Warned   []Warned
	Troubles []Trouble
}

// Day is what one more closed period tells, with all that was recorded since the one before;
// at the end of a ledger what came after the last.
type Day struct {
	Seq      int64 // the last entry that is in it
	Closed   []Closed
	Tills    []Brought
	Warned   []Warned
	Troubles []Trouble
}

// Closed is a closed period.
type Closed struct {
	Seq, No         int64 // of the entry that closed it, and of its opening
	Date            shop.Date
	Opened, Counted time.Time
	Early           bool   // the next opening came before the close
	Boxes           string // position and kind of each box
	Kinds           []PaidOut
}

// PaidOut is what a period tells of one kind of note.
type PaidOut struct {
	Face        cashmath.Face
	Paid, PutIn int64
	RanOut      bool
	Emptied     time.Time // a level check found none of what was put in until the count; zero: none did
}

// Brought is notes that came from a till; below nothing they went there.
type Brought struct {
	Seq   int64
	At    time.Time
	Face  cashmath.Face
	Notes int64
}

// Warned names a period that was emptied early because of a warning.
type Warned struct {
	Seq, Period int64
	At          time.Time
}

// Trouble is what was recorded of an incident, as far as it says when the machine paid nobody.
type Trouble struct {
	Seq    int64        `json:"seq"`
	At     time.Time    `json:"at"`
	Target int64        `json:"of,omitempty"` // news: the incident
	Topic  string       `json:"topic,omitempty"`
	Ending books.Ending `json:"ending,omitempty"`
	Out    time.Time    `json:"out,omitzero"`
	Served bool         `json:"served,omitempty"`
}

// Learned reads all of a machine's ledger, oldest entry first.
func Learned(id shop.MachineID, entries []books.Entry) (State, error) {
	return State{Version: StateVersion}.Extended(books.New(id), entries)
}

// Extended goes on with the entries of a ledger that are behind the state's own. Then are
// the books before the first of the entries, which may begin before that.
func (s State) Extended(then *books.Machine, entries []books.Entry) (State, error) {
	days, err := DaysOf(then, entries)
	if err != nil {
		return s, err
	}
	for _, d := range days {
		s = s.Add(d)
	}
	return s, nil
}

// DaysOf parts entries into days, each ending with what closed a period.
func DaysOf(then *books.Machine, entries []books.Entry) ([]Day, error) {
	closed := map[int64][]Closed{}
	err := books.ClosingsOn(then, entries, func(seq int64, p *books.Period) {
		closed[seq] = append(closed[seq], closedOf(seq, p))
	})
	if err != nil {
		return nil, err
	}
	inForce := map[int64][]books.Entry{}
	for _, e := range books.InForce(entries) {
		inForce[e.Seq] = append(inForce[e.Seq], e)
	}
	var days []Day
	d := Day{}
	for _, e := range entries {
		for _, holds := range inForce[e.Seq] {
			d.take(holds)
		}
		if d.Seq, d.Closed = e.Seq, closed[e.Seq]; len(d.Closed) > 0 {
			days, d = append(days, d), Day{}
		}
	}
	if d.Seq != 0 {
		days = append(days, d)
	}
	return days, nil
}

// take notes what an entry tells beside closing a period.
func (d *Day) take(e books.Entry) {
	for _, mv := range e.Moves {
		switch books.Till {
		case mv.From:
			d.Tills = append(d.Tills, Brought{e.Seq, second(e.Happened), mv.Face, mv.Notes})
		case mv.To:
			d.Tills = append(d.Tills, Brought{e.Seq, second(e.Happened), mv.Face, -mv.Notes})
		}
	}
	if e.Kind == books.Moved && e.Reason == books.Warning {
		d.Warned = append(d.Warned, Warned{e.Seq, e.Period, second(e.Happened)})
	}
	if t := e.Trouble; t != nil && (e.Kind == books.Incident || e.Kind == books.News) &&
		(t.Topic != "" || t.Ending != "" || !t.Out.IsZero() || t.Served) {
		d.Troubles = append(d.Troubles, Trouble{e.Seq, second(e.Happened), e.Target, t.Topic, t.Ending,
			second(t.Out), t.Served})
	}
}

// second is an instant as it is kept.
func second(t time.Time) time.Time {
	if t.IsZero() {
		return time.Time{}
	}
	return t.UTC().Truncate(time.Second)
}

func closedOf(seq int64, p *books.Period) Closed {
	c := Closed{Seq: seq, No: p.No, Date: p.Date, Opened: second(p.Opened), Counted: second(p.CountedAt),
		Early: p.Has(books.Early)}
	paid := paidOut(p)
	var boxes []string
	for _, b := range p.Boxes {
		boxes = append(boxes, fmt.Sprintf("%d=%s", b.Position, b.Face))
		if slices.ContainsFunc(c.Kinds, func(k PaidOut) bool { return k.Face == b.Face }) {
			continue
		}
		c.Kinds = append(c.Kinds, PaidOut{Face: b.Face, Paid: paid[b.Face], PutIn: putIn(p, b.Face),
			RanOut: ranOut(p, b.Face), Emptied: second(emptied(p, b.Face))})
	}
	c.Boxes = strings.Join(boxes, ",")
	return c
}

// Add goes on with what one more day tells. What the state has already is not taken twice.
func (s State) Add(d Day) State {
	out := State{Version: StateVersion, Seq: max(s.Seq, d.Seq)}
	late := func(seq int64) bool { return seq > s.Seq }
	out.Days = appended(s.Days, d.Closed, func(c Closed) bool { return late(c.Seq) })
	out.Tills = appended(s.Tills, d.Tills, func(b Brought) bool { return late(b.Seq) })
	out.Warned = appended(s.Warned, d.Warned, func(w Warned) bool { return late(w.Seq) })
	out.Troubles = appended(s.Troubles, d.Troubles, func(t Trouble) bool { return late(t.Seq) })
	return out.within(learnDays+spareDays, tillDays)
}

func appended[T any](list, more []T, take func(T) bool) []T {
	list = slices.Clip(list)
	for _, x := range more {
		if take(x) {
			list = append(list, x)
		}
	}
	return list
}

// Newest is when the newest closed period was counted.
func (s State) Newest() (at time.Time) {
	for _, c := range s.Days {
		at = later(at, c.Counted)
	}
	return at
}

// within leaves out what is so many days behind the newest closed period.
func (s State) within(days, tills int) State {
	newest := s.Newest()
	old := func(at time.Time, days int) bool { return at.Before(newest.Add(-time.Duration(days) * oneDay)) }
	s.Days = kept(s.Days, func(c Closed) bool { return !old(c.Counted, days) })
	s.Tills = kept(s.Tills, func(b Brought) bool { return !old(b.At, tills) })
	s.Troubles = kept(s.Troubles, func(t Trouble) bool { return !old(t.At, days) })
	s.Warned = kept(s.Warned, func(w Warned) bool { return !old(w.At, days) })
	return s
}

func kept[T any](list []T, keep func(T) bool) []T {
	if !slices.ContainsFunc(list, func(x T) bool { return !keep(x) }) {
		return list
	}
	if list = slices.DeleteFunc(slices.Clone(list), func(x T) bool { return !keep(x) }); len(list) == 0 {
		return nil
	}
	return list
}

// Before gives the state as it was before an entry, as far as that is kept, see [Reaches].
func (s State) Before(seq int64) State {
	return State{Version: StateVersion, Seq: min(s.Seq, seq-1),
		Days:     kept(s.Days, func(c Closed) bool { return c.Seq < seq }),
		Tills:    kept(s.Tills, func(b Brought) bool { return b.Seq < seq }),
		Warned:   kept(s.Warned, func(w Warned) bool { return w.Seq < seq }),
		Troubles: kept(s.Troubles, func(t Trouble) bool { return t.Seq < seq })}
}

// Reaches reports whether a state whose newest period was counted at one moment can go back to
// before an entry of another, from which on the newest is the last of them. It cannot where that is so
// long ago that what was let go since is wanted again.
func Reaches(newest, entry, was time.Time) bool {
	return newest.Sub(earlier(entry, was)) < spareDays*oneDay
}

// used is the state without what advice does not go by.
func (s State) used() State { return s.within(learnDays, takingDays) }

// Same reports whether two states tell advice the same, which those of one ledger do.
func (s State) Same(o State) bool {
	a, err := s.used().MarshalText()
	b, other := o.used().MarshalText()
	return err == nil && other == nil && bytes.Equal(a, b)
}
