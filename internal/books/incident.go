package books

import (
	"slices"
	"time"

	"shopfloat/internal/shop"
)

// Incidents are records of the ledger like all others: what a machine's fault
// was, who saw to it and how long it stood still is asked for in disputes, so
// it deserves the same chain, and it comes with the same undo-proof order in
// time beside the counts that a difference is placed by. An incident is begun
// by one record; news of it are further ones. They belong to no period: a
// machine can be down while nothing is loaded.
const (
	Incident Kind = "incident" // somebody began a guide
	News     Kind = "news"     // how an incident went on; Target is its record
)

// SharedPhone marks what was noted on the phone on the counter without asking
// who it was: nobody who stands before a fault is held up by that.
const SharedPhone Mark = "shared-phone"

// Ending says how a run through a guide ended.
type Ending string

// The endings. A run that is still under way has none.
const (
	Solved       Ending = "solved"
	CalledHelp   Ending = "call"    // somebody has to be rung
	OutOfService Ending = "out"     // the machine is not to be used
	Stopped      Ending = "stopped" // the person left the guide
	Elsewhere    Ending = "other"   // it went on with another guide
	Mistake      Ending = "mistake" // the guide was begun by mistake: there was no fault
)

// Trouble is what a record tells of an incident. News leaves empty what it does
// not change.
type Trouble struct {
	Topic     string    `json:"topic,omitempty"` // Incident: the guide's name
	Light     bool      `json:"light,omitempty"` // Incident: a question, open only while the machine is out
	Steps     []string  `json:"steps,omitempty"` // News: the choices of the guide taken so far
	Ending    Ending    `json:"ending,omitempty"`
	Reference string    `json:"reference,omitempty"` // the provider's
	Out       time.Time `json:"out,omitzero"`        // the machine is out of service from then on
	Served    bool      `json:"served,omitempty"`    // the machine was in service all the time after all
}

// Fault is an incident as the ledger knows it.
type Fault struct {
	Seq       int64         `json:"seq"` // of the record that began it
	Topic     string        `json:"topic"`
	Light     bool          `json:"light,omitempty"`
	By        shop.PersonID `json:"by"`
	Began     time.Time     `json:"began"`
	Steps     []string      `json:"steps,omitempty"`
	Ending    Ending        `json:"ending,omitempty"`
	Ended     time.Time     `json:"ended,omitzero"` // the last ending's
	EndedBy   shop.PersonID `json:"ended_by,omitempty"`
	Reference string        `json:"reference,omitempty"`
	Out       time.Time     `json:"out,omitzero"` // out of service from; zero: it was not
	Back      time.Time     `json:"back,omitzero"`
}

// Unsolved reports whether somebody still has to see to it.
func (f *Fault) Unsolved() bool {
	switch f.Ending {
	case Solved, Elsewhere, Mistake:
		return false
	case OutOfService:
		return true
	}
	return !f.Light
}

// Down is how long the machine was out of service within a span of time; while
// it still is, it counts up to now.
func (f *Fault) Down(from, until, now time.Time) time.Duration {
	if f.Out.IsZero() {
		return 0
	}
	begin, end := f.Out, f.Back
	if end.IsZero() {
		end = now
	}
	if begin.Before(from) {
		begin = from
	}
	if end.After(until) {
		end = until
	}
	return max(0, end.Sub(begin))
}

// Bounds of the incidents at hand; the ledger keeps all.
const (
	keepSolved   = 10
	keepUnsolved = 50
)

// Fault finds an incident that is still at hand, or nil.
func (m *Machine) Fault(seq int64) *Fault {
	i := slices.IndexFunc(m.Faults, func(f Fault) bool { return f.Seq == seq })
	if i < 0 {
		return nil
	}
	return &m.Faults[i]
}

func postIncident(m *Machine, _ *Period, e *Entry) ([]Move, error) {
	if e.Trouble == nil || e.Trouble.Topic == "" {
		return nil, &Refusal{Code: NoTopic}
	}
	m.Faults = append(slices.Clip(m.Faults),
		Fault{Seq: e.Seq, Topic: e.Trouble.Topic, Light: e.Trouble.Light, By: e.By, Began: e.Happened})
	m.dropFaults()
	return nil, nil
}

func postNews(m *Machine, _ *Period, e *Entry) ([]Move, error) {
	m.Faults = slices.Clone(m.Faults)
	f := m.Fault(e.Target)
	if e.Trouble == nil || f == nil {
		return nil, &Refusal{Code: NoFault, Entry: e.Target}
	}
	f.take(e)
	m.dropFaults()
	return nil, nil
}

// take puts news into an incident. A machine that is out of service comes back
// when its fault is solved.
func (f *Fault) take(e *Entry) {
	t := e.Trouble
	if len(t.Steps) > 0 {
		f.Steps = t.Steps
	}
	if t.Reference != "" {
		f.Reference = t.Reference
	}
	if !t.Out.IsZero() {
		f.Out, f.Back = t.Out, time.Time{}
		if f.Ending == Solved {
			f.Back = f.Ended
		}
	}
	if t.Served {
		f.Out, f.Back = time.Time{}, time.Time{}
	}
	if t.Ending == "" {
		return
	}
	f.Ending, f.Ended, f.EndedBy = t.Ending, e.Happened, e.By
	if t.Ending == Solved && !f.Out.IsZero() && f.Back.IsZero() {
		f.Back = e.Happened
	}
}

// dropFaults forgets solved incidents beyond those that are shown, and the
// oldest unsolved ones where nobody ever looked after any.
func (m *Machine) dropFaults() {
	if m.all {
		return
	}
	solved, unsolved := 0, 0
	for i := len(m.Faults) - 1; i >= 0; i-- {
		n, keep := &solved, keepSolved
		if m.Faults[i].Unsolved() {
			n, keep = &unsolved, keepUnsolved
		}
		if *n++; *n > keep {
			m.Faults = slices.Delete(m.Faults, i, i+1)
		}
	}
}

// Faults gives the incidents that entries of a machine tell of, oldest first.
// News of one that began before the first entry are left out.
func Faults(entries []Entry) []Fault {
	m := &Machine{all: true}
	for i := range entries {
		switch e := &entries[i]; e.Kind {
		case Incident:
			_, _ = postIncident(m, nil, e) // one without a topic was never posted
		case News:
			if m.Fault(e.Target) != nil {
				_, _ = postNews(m, nil, e)
			}
		}
	}
	return m.Faults
}
