package books

import (
	"maps"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// Status says how far a period is.
type Status string

// A period is open, then counted with its printed figures still missing, then closed.
const (
	Open    Status = "open"
	Waiting Status = "counted"
	Closed  Status = "closed"
)

// BoxState is one note box within a period, in notes.
type BoxState struct {
	Position  int           `json:"position"`
	Face      cashmath.Face `json:"face"`
	Loaded    int64         `json:"loaded"`
	Added     int64         `json:"added,omitempty"`
	Removed   int64         `json:"removed,omitempty"`
	Held      int64         `json:"held"` // by the ledger: what was put in and not taken out or counted away
	Remaining int64         `json:"remaining,omitempty"`
}

// Slip is one settlement's printed figures.
type Slip struct {
	Seq      int64           `json:"seq"`
	Happened time.Time       `json:"happened"`
	Day      shop.Date       `json:"day,omitempty"` // of trading
	PaidOut  Notes           `json:"paid_out,omitempty"`
	Back     Notes           `json:"back,omitempty"`  // cancelled and not paid out
	Tests    Notes           `json:"tests,omitempty"` // test notes among those paid out
	Amounts  []Amount        `json:"amounts,omitempty"`
	Due      decimal.Decimal `json:"due"` // what the bank should credit
}

// Finding is notes found on the way before the count.
type Finding struct {
	Seq      int64     `json:"seq"`
	Happened time.Time `json:"happened"`
	Where    Place     `json:"where"`
	Notes    Notes     `json:"notes"`
}

// Reading is what the machine showed as remaining at a level check, by box.
type Reading struct {
	Happened time.Time `json:"happened"`
	Boxes    []int64   `json:"boxes"` // shown
	Held     []int64   `json:"held"`  // by the ledger at that moment
}

// Period runs from loading to counting.
type Period struct {
	No       int64         `json:"no"` // sequence number of its opening
	Status   Status        `json:"status"`
	Opened   time.Time     `json:"opened"`
	Date     shop.Date     `json:"day,omitempty"` // of trading; empty while no record says
	By       shop.PersonID `json:"by"`
	Settings int64         `json:"settings"`
	Paper    bool          `json:"paper,omitempty"` // entered later from paper
	Taken    bool          `json:"taken,omitempty"` // the next opening took over what was left
	Boxes    []BoxState    `json:"boxes"`

	Added     Notes            `json:"added,omitempty"`
	Removed   Notes            `json:"removed,omitempty"`
	Tests     Notes            `json:"tests,omitempty"`      // counted by the machine as paid out
	TestsLeft Notes            `json:"tests_left,omitempty"` // of these, in no settlement yet
	Findings  []Finding        `json:"findings,omitempty"`
	Slips     []Slip           `json:"slips,omitempty"`
	Readings  []Reading        `json:"readings,omitempty"`
	Ticks     []string         `json:"ticks,omitempty"` // still to do
	TicksAt   time.Time        `json:"ticks_at,omitzero"`
	Tried     bool             `json:"tried,omitempty"`  // a test payout is on record
	Untold    bool             `json:"untold,omitempty"` // one was ticked, and no record says where its notes are
	Total     *decimal.Decimal `json:"total,omitempty"`  // the machine's printed total after loading

	CountedAt time.Time     `json:"counted,omitzero"`
	CountedBy shop.PersonID `json:"counted_by,omitempty"`
	CountSeq  int64         `json:"count_seq,omitempty"`
	Counts    int           `json:"counts,omitempty"`
	Witness   shop.PersonID `json:"witness,omitempty"` // stands by the count
	Alone     bool          `json:"alone,omitempty"`   // nobody could
	Marks     []Mark        `json:"marks,omitempty"`
	Tray      Notes         `json:"tray,omitempty"` // counted
	Path      Notes         `json:"path,omitempty"` // counted as found on the way
	Gone      Notes         `json:"gone,omitempty"` // left the boxes and not explained

	Ended    time.Time        `json:"ended,omitzero"`
	EndedBy  shop.PersonID    `json:"ended_by,omitempty"`
	Verdict  cashmath.Verdict `json:"verdict,omitempty"`
	Variance decimal.Decimal  `json:"variance"`
	ByFace   Notes            `json:"by_face,omitempty"` // difference in notes, where it is known
}

// Box finds the state of the box at a position, or nil.
func (p *Period) Box(position int) *BoxState {
	for i := range p.Boxes {
		if p.Boxes[i].Position == position {
			return &p.Boxes[i]
		}
	}
	return nil
}

// Has reports whether the period carries a mark.
func (p *Period) Has(m Mark) bool { return slices.Contains(p.Marks, m) }

// Held is what should be in the boxes before the machine paid anything, by face value.
func (p *Period) Held() Notes {
	var n Notes
	for _, b := range p.Boxes {
		n.Plus(b.Face, b.Held)
	}
	return n
}

// TotalOnly reports whether some slip gave amounts of money only, so that a
// difference is known for the total and not by face value.
func (p *Period) TotalOnly() bool {
	return slices.ContainsFunc(p.Slips, func(s Slip) bool { return len(s.Amounts) > 0 })
}

// Unfinished reports whether figures are still to come.
func (p *Period) Unfinished() bool { return p.Status != Closed }

// Day gives the period as the figures of a reconciliation. Test notes that the
// machine counts as paid out are in it once a slip says that they were.
func (p *Period) Day() cashmath.Day {
	if len(p.Slips) > 0 || p.Status == Closed {
		return p.dayOf(p.printedTests())
	}
	return p.dayOf(p.Tests)
}

// printedTests are the notes of tests among those that slips say were paid out.
func (p *Period) printedTests() (n Notes) {
	n.Add(p.Tests)
	for face, left := range p.TestsLeft {
		n.Plus(face, -left)
	}
	return n
}

// dayOf gives the period with so many notes of tests among those paid out.
func (p *Period) dayOf(tests Notes) cashmath.Day {
	var loaded, added, removed, remaining Notes
	for _, b := range p.Boxes {
		loaded.Plus(b.Face, b.Loaded)
		added.Plus(b.Face, b.Added)
		removed.Plus(b.Face, b.Removed)
		remaining.Plus(b.Face, b.Remaining)
	}
	var paid, back Notes
	for _, s := range p.Slips {
		paid.Add(s.PaidOut)
		back.Add(s.Back)
	}
	d := cashmath.Day{
		Loaded: cashmath.Notes(loaded), Dispensed: cashmath.Notes(paid), Reversed: cashmath.Notes(back),
		Remaining: cashmath.Notes(remaining), Rejects: cashmath.Notes(p.Tray), Found: cashmath.Notes(p.Path),
		Test: cashmath.Notes(tests),
	}
	if len(added) > 0 {
		d.Topups = []cashmath.Notes{cashmath.Notes(added)}
	}
	if len(removed) > 0 {
		d.Removed = []cashmath.Notes{cashmath.Notes(removed)}
	}
	return d
}

// Paid adds up, in money, what all slips say was paid out and cancelled.
func (p *Period) Paid() (paidOut, cancelled decimal.Decimal) {
	for _, s := range p.Slips {
		paidOut = paidOut.Add(s.Paid())
		cancelled = cancelled.Add(s.Cancelled())
	}
	return paidOut, cancelled
}

// Paid is the money that the slip says was paid out, cancelled payouts included.
func (s *Slip) Paid() decimal.Decimal {
	sum := s.PaidOut.Value()
	for _, a := range s.Amounts {
		if a.Field == PaidOut || a.Field == LastSeen {
			sum = sum.Add(a.Value)
		}
	}
	return sum
}

// Cancelled is the money of payouts that were cancelled.
func (s *Slip) Cancelled() decimal.Decimal {
	sum := s.Back.Value()
	for _, a := range s.Amounts {
		if a.Field == Cancelled {
			sum = sum.Add(a.Value)
		}
	}
	return sum
}

// Value is what the notes are worth.
func (n Notes) Value() decimal.Decimal { return cashmath.Notes(n).Value() }

func (p *Period) clone() *Period {
	c := *p
	c.Boxes = slices.Clone(p.Boxes)
	for _, n := range []*Notes{
		&c.Added, &c.Removed, &c.Tests, &c.TestsLeft, &c.Tray, &c.Path, &c.Gone, &c.ByFace,
	} {
		*n = maps.Clone(*n)
	}
	c.Findings, c.Slips = slices.Clone(p.Findings), slices.Clone(p.Slips)
	c.Readings, c.Ticks, c.Marks = slices.Clone(p.Readings), slices.Clone(p.Ticks), slices.Clone(p.Marks)
	return &c
}

// Loaded is what the opening put in, by face value.
func (p *Period) Loaded() Notes {
	var n Notes
	for _, b := range p.Boxes {
		n.Plus(b.Face, b.Loaded)
	}
	return n
}

// Trial is what became of the notes of a test payout.
type Trial struct {
	Where   Place `json:"where,omitempty"`
	Counted bool  `json:"counted,omitempty"` // the machine counted them as paid out
}
