package books

import (
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// Kind says what a record tells.
type Kind string

// The kinds of record.
const (
	Opening    Kind = "opening"    // a period begins: notes in each box
	Checks     Kind = "checks"     // ticks of the opening checklist that are done
	Printed    Kind = "printed"    // the machine's printed total after loading
	TopUp      Kind = "top-up"     // notes added to what is there
	Swap       Kind = "swap"       // a box taken out with what was left, another put in
	Moved      Kind = "moved"      // notes moved between machine, shop cash, till and bank
	Test       Kind = "test"       // a test dispense
	Found      Kind = "found"      // notes found on the way of the notes
	Level      Kind = "level"      // what the machine shows as remaining
	Spot       Kind = "spot"       // counted without closing
	SpotPaid   Kind = "spot-paid"  // the machine's figures for a spot count
	Count      Kind = "count"      // the closing count
	Settlement Kind = "settlement" // printed figures of one settlement
	Close      Kind = "close"      // the period is done and its difference booked
	Attachment Kind = "attachment" // a photo or words kept with an earlier record
	Undo       Kind = "undo"       // an earlier record does not hold
	Correction Kind = "correction" // an earlier record does not hold; another holds in its place
	Credit     Kind = "credit"     // the bank paid
	Debit      Kind = "debit"      // the bank took money
	Matched    Kind = "matched"    // what an earlier payment was for is known now
	WriteOff   Kind = "write-off"  // an owner gave up what the bank owes, and why
	Dated      Kind = "dated"      // the days of records that said none
)

// Field says what a figure counts.
type Field string

// The fields of figures.
const (
	Loaded    Field = "loaded"    // inside a box after loading
	Added     Field = "added"     // put into a box
	Left      Field = "left"      // was left in a box taken out
	Refused   Field = "refused"   // in the box for refused notes
	FoundAt   Field = "found"     // found on the way
	Remaining Field = "remaining" // left in a box at a count
	Shown     Field = "shown"     // what the machine shows as remaining
	PaidOut   Field = "dispensed" // printed: paid out
	Cancelled Field = "reversed"  // printed: cancelled and not paid out
	Tried     Field = "test"      // notes of a test dispense
	LastSeen  Field = "last-seen" // paid out before the counters started again
	Credited  Field = "credited"  // money the bank paid
	Debited   Field = "debited"   // money the bank took
	Forgone   Field = "given-up"  // Brief of WriteOff: money the bank no longer owes
	Was       Field = "was"       // Correction: the period's difference before it
)

// Figure is one count as a person gave it.
type Figure struct {
	Field Field         `json:"field"`
	Box   int           `json:"box,omitempty"` // position; 0 when it is not one box's
	Face  cashmath.Face `json:"face"`
	Notes int64         `json:"notes"`
}

// Amount is one amount of money as a slip gave it, for machines and people
// that tell no more.
type Amount struct {
	Field Field           `json:"field"`
	Value decimal.Decimal `json:"value"`
}

// Mark is something true of a record.
type Mark string

// The marks.
const (
	NotBlind  Mark = "not-blind" // counted again after the difference was known
	Second    Mark = "second"    // a second count by another person
	Unsettled Mark = "unsettled" // the last figure before the counters restarted is not known
	Restarted Mark = "restarted" // the counters started again at zero
	Counted   Mark = "counted"   // the machine counted the test notes as paid out
	NoTray    Mark = "no-tray"   // the box for refused notes was not counted
	Early     Mark = "early"     // the next opening came before the close
	// told after the count that followed it: what was counted there holds
	AfterCount Mark = "after-count"
	Different  Mark = "different" // something on a checklist was not as it should be
	Paper      Mark = "paper"     // entered later from paper
	AtOnce     Mark = "at-once"   // a list was ticked within moments of being shown
)

// Reason says why notes were moved.
type Reason string

// The reasons.
const (
	Change   Reason = "change"   // borrowed for change, owed back
	Returned Reason = "returned" // brought back
	Exchange Reason = "exchange" // swapped at equal value
	FromBank Reason = "bank"     // brought from or to the bank
	Warning  Reason = "warning"  // emptied early because of a warning
	Other    Reason = "other"

	Mistyped   Reason = "mistyped"   // the figure was typed wrongly
	Miscounted Reason = "miscounted" // it was counted wrongly
	Misplaced  Reason = "misplaced"  // it belongs to another day
	Twice      Reason = "twice"      // another record has it in it
	KnownNow   Reason = "known-now"  // the bank's reference came only later

	Unwilling Reason = "will-not" // WriteOff: the bank will not pay
	TooSmall  Reason = "small"    // too little to ask for
	Differing Reason = "differs"  // the bank's own figures are another sum
	CameAfter Reason = "came"     // of what was given up, it came after all
)

// Photo points at a picture in the chat; the picture itself is fetched later.
type Photo struct {
	ID     string `json:"id"`     // to fetch it with
	Unique string `json:"unique"` // the same for every copy
}

// Record is what a dialog asks to be written. The books work out the
// movements, except for Moved, which brings its own.
type Record struct {
	Kind     Kind            `json:"kind"`
	Rule     Rule            `json:"rule,omitempty"`   // by which it is posted, see [Ruled]
	Period   int64           `json:"period,omitempty"` // sequence number of its opening; 0 for an opening
	Happened time.Time       `json:"happened"`
	Day      shop.Date       `json:"day,omitempty"` // of trading it is told under, by the rule of its time
	Figures  []Figure        `json:"figures,omitempty"`
	Amounts  []Amount        `json:"amounts,omitempty"`
	Marks    []Mark          `json:"marks,omitempty"`
	Ticks    []string        `json:"ticks,omitempty"` // Opening: still to do; Checks: done
	Where    Place           `json:"where,omitempty"` // Test, Found: where the notes went
	Reason   Reason          `json:"reason,omitempty"`
	Moves    []Move          `json:"moves,omitempty"`
	Due      decimal.Decimal `json:"due,omitzero"`      // Settlement: what the bank should credit
	DueOn    shop.Date       `json:"due_on,omitempty"`  // Settlement: until when; empty: no rule is known
	Parts    []Part          `json:"parts,omitempty"`   // Credit, Debit, Matched: what the money is for
	Line     *shop.Line      `json:"line,omitempty"`    // Credit, Debit: of the bank's statement it was booked from
	Ref      string          `json:"ref,omitempty"`     // Credit, Debit: the bank's own reference
	Target   int64           `json:"target,omitempty"`  // Undo, Attachment, Correction: the record meant
	Days     DaysOf          `json:"days,omitempty"`    // Dated
	Trouble  *Trouble        `json:"trouble,omitempty"` // Incident, News
	Instead  *Record         `json:"instead,omitempty"` // Correction: what holds in its place; nil: nothing
	Pin      string          `json:"pin,omitempty"`     // the newest thing told of the shop; the store sets it

	// Words and Photos are kept apart from the ledger, which holds only their
	// salted digest, so that they could be erased. No command does so yet.
	Words  string  `json:"-"`
	Photos []Photo `json:"-"`
}

// Has reports whether a record carries a mark.
func (r *Record) Has(m Mark) bool {
	for _, have := range r.Marks {
		if have == m {
			return true
		}
	}
	return false
}

// NeedsName reports whether a record needs to know who makes it, on a phone that
// several people use. Whoever stands before a fault is not held up by that.
func (r Record) NeedsName() bool { return !r.Has(SharedPhone) }

// Entry is a record in its place in the ledger.
type Entry struct {
	Record
	Machine  shop.MachineID
	Seq      int64 // 1 is the machine's first
	By       shop.PersonID
	Settings int64 // version of the shop's settings in force
	Recorded time.Time
}
