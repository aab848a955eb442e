package advice

import (
	"errors"
	"math"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/demand"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// Cut says why a load is less than it should be.
type Cut string

// The cuts. Empty is none.
const (
	Capacity Cut = "capacity" // the boxes would be too full
	Limit    Cut = "limit"    // the insured limit
	Hand     Cut = "hand"     // no more notes are at hand
	Bundle   Cut = "bundle"   // another whole bundle does not fit
)

// Line is the advice for one kind of note. Notes are those inside after loading.
type Line struct {
	Face     cashmath.Face
	Notes    int64
	Enough   int64           // without any cut
	Cut      Cut             // what made it less
	Instead  int64           // of Notes: in place of dearer ones that are not at hand
	Known    bool            // false: no figures yet, Notes is what is usually loaded
	Forecast demand.Forecast // where known; of several days together it has no terms
	Empty    time.Time       // when a load for one day that was cut is likely out; zero: not on that day
}

// Advice is how much to load for some days.
type Advice struct {
	From, To  shop.Date
	Days      []demand.Day // those between them on which the machine can pay
	Share     float64      // of such days on which Enough is enough of every kind
	Lines     []Line       // by kind, highest first
	Value     decimal.Decimal
	KnownDays int  // days of own figures; 0: none yet
	Thin      bool // so few that it leans on what shops have in common
}

// ErrDays says that there is no day to load for within reach of a forecast.
var ErrDays = errors.New("no day to load for within eight weeks")

// For says what to load so that it lasts from a date, the outlook's own, to
// another. Hand holds the notes at hand by kind; nil: as many as it takes.
func (o *Outlook) For(to shop.Date, hand map[cashmath.Face]int64) (Advice, error) {
	share, err := Share(o.shop.Load)
	if err != nil {
		return Advice{}, err
	}
	a := Advice{From: dateOf(o.next), To: to, Share: share, Days: paying(o.shop, dateOf(o.next), to)}
	if len(a.Days) == 0 || int(dayOf(to)-o.next) >= demand.AheadMax {
		return a, ErrDays
	}
	for _, face := range o.kit.Faces() {
		a.Lines = append(a.Lines, o.line(face, a.Days))
	}
	for i := range a.Lines {
		a.KnownDays = max(a.KnownDays, a.Lines[i].Forecast.KnownDays)
		a.Thin = a.Thin || !a.Lines[i].Known || a.Lines[i].Forecast.Thin
	}
	o.fill(&a, hand)
	for i, l := range a.Lines {
		a.Value = a.Value.Add(cashmath.Value(l.Face, l.Notes))
		a.Lines[i].Empty = o.empty(l, a.Days)
	}
	return a, nil
}

// empty is when what was cut is likely out, at the pace of a day that asks for as many
// as expected, alike at all hours: when a shop's customers come is not on record.
func (o *Outlook) empty(l Line, days []demand.Day) time.Time {
	if l.Cut == "" || len(days) != 1 || float64(l.Notes) >= l.Forecast.Mean {
		return time.Time{}
	}
	day := reminders.On(o.shop, dateOf(days[0]))
	if day.Endless || !day.Close.After(day.Open) {
		return time.Time{}
	}
	part := float64(l.Notes) / l.Forecast.Mean
	return day.Open.Add(time.Duration(part * float64(day.Close.Sub(day.Open))))
}

func (o *Outlook) line(face cashmath.Face, days []demand.Day) Line {
	l := Line{Face: face}
	l.Forecast, l.Known = o.Of(face, days)
	return l
}

// fill works out the notes of each line: what is enough, within the insured
// limit at the same lower share for every kind, in round numbers that fit the
// boxes and what is at hand.
func (o *Outlook) fill(a *Advice, hand map[cashmath.Face]int64) {
	room := make([]rounding, len(a.Lines))
	for i := range a.Lines {
		room[i] = o.rounding(a.Lines[i].Face, hand)
		a.Lines[i].Enough = room[i].up(o.wanted(a.Lines[i], kindShare(a.Share, len(a.Lines))))
		a.Lines[i].Notes, a.Lines[i].Cut = room[i].fit(a.Lines[i].Enough)
	}
	if hand != nil {
		instead(a.Lines, room)
	}
	if o.over(a.Lines) {
		o.lower(a, room)
	}
}

// wanted is what is enough of one kind on a share of days, not rounded.
func (o *Outlook) wanted(l Line, share float64) int64 {
	if !l.Known {
		return o.usual(l.Face)
	}
	q, err := l.Forecast.Quantile(share)
	if err != nil {
		return 0 // a share that is none does not come from Share
	}
	return ceil(q)
}

// ceil makes expected notes whole ones, within what a count can be.
func ceil(notes float64) int64 { return int64(math.Ceil(min(notes, cashmath.MaxNotes))) }

// usual is what is laid down as usually loaded of a kind.
func (o *Outlook) usual(face cashmath.Face) int64 {
	n := int64(0)
	for _, b := range o.kit.Boxes {
		if b.Face == face {
			n += b.Usual
		}
	}
	return n
}

func (o *Outlook) over(lines []Line) bool {
	var sum decimal.Decimal
	for _, l := range lines {
		sum = sum.Add(cashmath.Value(l.Face, l.Notes))
	}
	return o.shop.Limit.IsPositive() && sum.GreaterThan(o.shop.Limit)
}

// halvings of the share bring it within a billionth of the largest that keeps the limit.
const halvings = 30

// lower finds the largest share at which everything fits the insured limit. Where
// kinds without a forecast alone are too much, all shrink alike.
func (o *Outlook) lower(a *Advice, room []rounding) {
	enough := make([]Line, len(a.Lines))
	copy(enough, a.Lines)
	at := func(share, shrink float64) {
		for i := range a.Lines {
			l := &a.Lines[i]
			n := o.wanted(*l, share)
			if !l.Known || shrink < seldom {
				n = int64(shrink * float64(n))
			}
			n = min(n, enough[i].Notes)
			if l.Notes, _ = room[i].fit(room[i].down(n)); l.Notes < enough[i].Notes {
				l.Cut, l.Instead = Limit, 0
			}
		}
	}
	share, low, high := kindShare(a.Share, len(a.Lines)), 0.0, 1.0
	for range halvings {
		part := (low + high) / 2
		at(share*part+tiny, min(2*part, 1))
		if o.over(a.Lines) {
			high = part
		} else {
			low = part
		}
	}
	at(share*low+tiny, min(2*low, 1))
}

// seldom is a part of the share below which a forecast says nothing: from there on its notes shrink too.
const seldom = 0.01

// tiny keeps a share above nothing.
const tiny = 1e-9
