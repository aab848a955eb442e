package books

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// An engineer's visit is two records: what was counted before anything was
// opened, and what was counted after the work. The machine pays nobody in
// between, so what the two counts do not explain arose during the visit.
const (
	VisitBegun Kind = "visit"     // figures: counted before; amount: the difference until then
	VisitEnded Kind = "visit-end" // figures as counted after; Target is the visit's record
)

// Fields of a visit's end.
const (
	Touched Field = "touched" // notes handled, wherever they are now
	Away    Field = "away"    // notes that left the boxes and lie in no place that was counted
)

// Marks of a visit.
const (
	Announced  Mark = "announced"   // the visit was announced and who came was checked
	TurnedAway Mark = "turned-away" // nobody knew of it: nothing was opened
	Uncounted  Mark = "uncounted"   // there was no count; TopUp: sealed bundles
)

// Call is an engineer's visit as the ledger knows it. Notes are by face value,
// boxes and box for refused notes together.
type Call struct {
	Seq       int64         `json:"seq"`
	Period    int64         `json:"period,omitempty"` // 0: nothing was loaded
	By        shop.PersonID `json:"by"`
	Began     time.Time     `json:"began"`
	Ended     time.Time     `json:"ended,omitzero"` // zero: the work is under way
	Away      bool          `json:"away,omitempty"` // turned away
	Reference string        `json:"reference,omitempty"`

	Before Notes `json:"before,omitempty"`
	Had    bool  `json:"had,omitempty"` // counted before
	Change Notes `json:"change,omitempty"`
	Known  bool  `json:"known,omitempty"` // counted before and after: Change is what arose in between

	Earlier *decimal.Decimal `json:"earlier,omitempty"` // difference until the visit; nil: not known
}

// keepCalls is how many visits are at hand.
const keepCalls = 5

// Call finds a visit that is still at hand, or nil.
func (m *Machine) Call(seq int64) *Call {
	i := slices.IndexFunc(m.Calls, func(v Call) bool { return v.Seq == seq })
	if i < 0 {
		return nil
	}
	return &m.Calls[i]
}

// Visited is the visit whose end is still to come, or nil.
func (m *Machine) Visited() *Call {
	if n := len(m.Calls) - 1; n >= 0 && m.Calls[n].Ended.IsZero() && !m.Calls[n].Away {
		return &m.Calls[n]
	}
	return nil
}

func postVisit(m *Machine, _ *Period, e *Entry) ([]Move, error) {
	v := Call{Seq: e.Seq, Period: e.Period, By: e.By, Began: e.Happened, Away: e.Has(TurnedAway),
		Before: counted(e.Figures)}
	v.Had = !v.Away && !e.Has(Uncounted)
	if e.Trouble != nil {
		v.Reference = e.Trouble.Reference
	}
	for _, a := range e.Amounts {
		if a.Field == Difference {
			earlier := a.Value
			v.Earlier = &earlier
		}
	}
	m.Calls = append(slices.Clip(m.Calls), v)
	if over := len(m.Calls) - keepCalls; over > 0 && !m.all {
		m.Calls = slices.Delete(m.Calls, 0, over)
	}
	return nil, nil
}

// counted adds up what lay in the boxes and in the box for refused notes.
func counted(figs []Figure) (n Notes) {
	for _, f := range figs {
		if f.Field == Remaining || f.Field == Refused {
			n.Plus(f.Face, f.Notes)
		}
	}
	return n
}

func postVisitEnd(m *Machine, _ *Period, e *Entry) ([]Move, error) {
	m.Calls = slices.Clone(m.Calls)
	v := m.Call(e.Target)
	if v == nil || !v.Ended.IsZero() || v.Away {
		return nil, &Refusal{Code: NoVisit, Entry: e.Target}
	}
	v.Ended = e.Happened
	if v.Known = v.Had && !e.Has(Uncounted); v.Known {
		v.Change = v.Between(e.Figures)
	}
	return nil, nil
}

// Between is what arose between the count before and the figures of a visit's
// end: after, and what was taken away, less before. Missing notes are negative.
func (v *Call) Between(figs []Figure) Notes {
	change := counted(figs)
	for f, n := range v.Before {
		change.Plus(f, -n)
	}
	for _, f := range figs {
		if f.Field == Away {
			change.Plus(f.Face, f.Notes)
		}
	}
	return change
}
