package books

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// Bounds of what a machine's running state keeps at hand; the ledger keeps all.
const (
	keepRecent = 20 // records shown by history
	keepClosed = 2  // closed periods
	keepLoads  = 10 // openings that say what is usual
)

// Brief is one line of history.
type Brief struct {
	Seq      int64         `json:"seq"`
	Kind     Kind          `json:"kind"`
	Period   int64         `json:"period"`
	By       shop.PersonID `json:"by"`
	Happened time.Time     `json:"happened"`
	Recorded time.Time     `json:"recorded"`
	Figures  []Figure      `json:"figures,omitempty"`
	Amounts  []Amount      `json:"amounts,omitempty"`
	Moves    []Move        `json:"moves,omitempty"`
	Reason   Reason        `json:"reason,omitempty"`
	Marks    []Mark        `json:"marks,omitempty"`
	Day      shop.Date     `json:"day,omitempty"`
	Target   int64         `json:"target,omitempty"`
	Void     bool          `json:"void,omitempty"` // undone by a later record

	Corrected int64 `json:"corrected,omitempty"` // the later record that says what holds in its place
}

// Debt is cash borrowed from the machine for change and not brought back yet.
type Debt struct {
	Seq      int64           `json:"seq"`
	Happened time.Time       `json:"happened"`
	Day      shop.Date       `json:"day,omitempty"`
	By       shop.PersonID   `json:"by"`
	Value    decimal.Decimal `json:"value"` // still owed
}

// Machine is the running state of one machine's books: the fold over its entries.
type Machine struct {
	ID      shop.MachineID `json:"id"`
	Seq     int64          `json:"seq"` // the last entry's; 0 when there is none
	Balance Balance        `json:"balance"`
	Open    int64          `json:"open,omitempty"` // the open period's number; 0 for none
	Periods []*Period      `json:"periods,omitempty"`
	Carried []Figure       `json:"carried,omitempty"` // what the last period left in the boxes
	Loads   [][]Figure     `json:"loads,omitempty"`   // recent openings, oldest first
	Debts   []Debt         `json:"debts,omitempty"`
	Recent  []Brief        `json:"recent,omitempty"` // oldest first
	Faults  []Fault        `json:"faults,omitempty"` // incidents, oldest first
	Calls   []Call         `json:"calls,omitempty"`  // engineers' visits, oldest first

	// What an opening's list was last answered with, until something was different.
	Checked string `json:"checked,omitempty"` // how notes were checked
	Trial   Trial  `json:"trial,omitzero"`    // what became of the notes of its test payout

	// What the bank owes or owed, oldest first: all of it after a fold; else what
	// was brought, see [Machine.With]. It is kept beside the running state, since
	// years of it may be open.
	Claims   []Claim   `json:"-"`
	Loose    []Loose   `json:"loose,omitempty"`    // money of the bank that is for none of them
	Payments []Payment `json:"payments,omitempty"` // recent, oldest first
	Money    Money     `json:"money,omitzero"`

	// Taken is the most of the shop's own cash that was ever in the machine, the tills and the bank.
	Taken decimal.Decimal `json:"taken,omitzero"`

	all     bool // nothing is dropped: to look back
	lenient bool // what is taken in may give up what is less by now, or not there
}

// New gives the empty books of a machine.
func New(id shop.MachineID) *Machine { return &Machine{ID: id, Balance: Balance{}} }

// Period finds a period that is still at hand, or nil.
func (m *Machine) Period(no int64) *Period {
	for _, p := range m.Periods {
		if p.No == no {
			return p
		}
	}
	return nil
}

// Current is the open period, or nil.
func (m *Machine) Current() *Period { return m.Period(m.Open) }

// Last is the most recent period that is not the open one, or nil.
func (m *Machine) Last() *Period {
	for _, p := range slices.Backward(m.Periods) {
		if p.No != m.Open {
			return p
		}
	}
	return nil
}

// Pending lists periods counted whose printed figures are still missing, oldest first.
func (m *Machine) Pending() []*Period {
	var list []*Period
	for _, p := range m.Periods {
		if p.Status == Waiting {
			list = append(list, p)
		}
	}
	return list
}

// Owed is the value borrowed for change and not brought back.
func (m *Machine) Owed() decimal.Decimal {
	var sum decimal.Decimal
	for _, d := range m.Debts {
		sum = sum.Add(d.Value)
	}
	return sum
}

// Inside is what the boxes hold by the ledger, before the payouts of the open
// period are known.
func (m *Machine) Inside() Notes {
	var n Notes
	if p := m.Current(); p != nil {
		return p.Held()
	}
	for _, f := range m.Carried {
		n.Plus(f.Face, f.Notes)
	}
	return n
}

// Usual gives what a box was loaded with lately: the median of recent
// openings, and how many there were.
func (m *Machine) Usual(position int, face cashmath.Face) (notes int64, openings int) {
	var seen []int64
	for _, load := range m.Loads {
		for _, f := range load {
			if f.Box == position && f.Face == face {
				seen = append(seen, f.Notes)
			}
		}
	}
	if len(seen) == 0 {
		return 0, 0
	}
	slices.Sort(seen)
	return seen[len(seen)/2], len(seen)
}

// Clone copies the state, so that a step that fails leaves the first untouched.
func (m *Machine) Clone() *Machine {
	c := *m
	c.Balance = m.Balance.Clone()
	c.Periods = make([]*Period, len(m.Periods))
	for i, p := range m.Periods {
		c.Periods[i] = p.clone()
	}
	c.Carried = slices.Clone(m.Carried)
	c.Loads = slices.Clone(m.Loads)
	c.Debts = slices.Clone(m.Debts)
	c.Recent = append(make([]Brief, 0, len(m.Recent)+1), m.Recent...) // one is about to come
	c.Faults, c.Calls = slices.Clone(m.Faults), slices.Clone(m.Calls)
	c.Claims, c.Loose, c.Payments = slices.Clone(m.Claims), slices.Clone(m.Loose), slices.Clone(m.Payments)
	return &c
}

// Reverse gives the movements that take others back.
func Reverse(moves []Move) []Move {
	back := make([]Move, 0, len(moves))
	for _, m := range slices.Backward(moves) {
		back = append(back, Move{From: m.To, To: m.From, Face: m.Face, Notes: m.Notes})
	}
	return back
}

func briefOf(e Entry) Brief {
	if e.Kind == Opening {
		e.Period = e.Seq
	}
	b := Brief{
		Seq: e.Seq, Kind: e.Kind, Period: e.Period, By: e.By, Happened: e.Happened, Recorded: e.Recorded,
		Figures: e.Figures, Amounts: e.Amounts, Moves: e.Moves, Reason: e.Reason, Marks: e.Marks, Target: e.Target,
		Day: e.Day,
	}
	if e.Kind == WriteOff {
		sum := decimal.Zero
		for _, p := range e.Parts {
			sum = sum.Add(p.Value)
		}
		b.Amounts = []Amount{{Field: Forgone, Value: sum}}
	}
	if e.Instead != nil {
		b.Figures, b.Moves = e.Instead.Figures, e.Instead.Moves
		b.Amounts = append(b.Amounts[:len(b.Amounts):len(b.Amounts)], e.Instead.Amounts...)
	}
	return b
}

func (m *Machine) remember(b Brief) {
	m.Recent = append(m.Recent, b)
	if over := len(m.Recent) - keepRecent; over > 0 && !m.all {
		m.Recent = slices.Delete(m.Recent, 0, over)
	}
}

// forget drops closed periods that are no longer needed at hand; the one that was
// just recorded about is, however long ago it was opened.
func (m *Machine) forget(about int64) {
	closed := 0
	for i := len(m.Periods) - 1; i >= 0 && !m.all; i-- {
		if m.Periods[i].Unfinished() {
			continue
		}
		if closed++; closed > keepClosed && m.Periods[i].No != about {
			m.Periods = slices.Delete(m.Periods, i, i+1)
		}
	}
}
