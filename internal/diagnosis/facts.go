// Package diagnosis finds the small slips that explain why a cash machine's day
// does not balance, and ranks them by how strong the evidence is.
//
// It works on note counts alone, knows no clock, file or network, names no person
// and claims no more than the figures show: where nothing fits it says so.
package diagnosis

import "shopfloat/internal/cashmath"

// ID names a kind of slip.
type ID string

// The kinds of slip. The first group rests on an event that is on record, the second
// or a few figures that were written down wrongly, the third on the shape of the
// difference only.
const (
	TopupTwice          ID = "topup-twice"
	TopupUnrecorded     ID = "topup-unrecorded"
	RejectsMissed       ID = "rejects-missed"
	RejectsCountedTwice ID = "rejects-counted-twice"
	ReversalSign        ID = "reversal-sign"
	CarriedOver         ID = "carried-over"
	LeftInOvernight     ID = "left-in-overnight"
	NoteInTransport     ID = "note-in-transport"
	TestNotes           ID = "test-notes"

	LinesExchanged   ID = "lines-exchanged"
	WrongLine        ID = "wrong-line"
	ValueForQuantity ID = "value-for-quantity"
	DigitsTransposed ID = "digits-transposed"
	DigitSlid        ID = "digit-slid"

	BoxForgotten   ID = "box-forgotten"
	OtherDay       ID = "other-day"
	SumOnLine      ID = "sum-on-line"
	TypedInBundles ID = "typed-in-bundles"

	CassettesExchanged ID = "cassettes-exchanged"
	BundleMiscounted   ID = "bundle-miscounted"

	Unexplained ID = "unexplained"

	// KeyBeside is a hint and no explanation: it stands last, below Unexplained.
	KeyBeside ID = "key-beside"
)

// Field names a field of the day in which figures are written down.
type Field string

// The fields a slip can point at.
const (
	Loaded    Field = "loaded"
	Topups    Field = "topups"
	Removed   Field = "removed"
	Dispensed Field = "dispensed"
	Reversed  Field = "reversed"
	Remaining Field = "remaining"
	Rejects   Field = "rejects"
)

// Facts is what is on record about one period. Everything but Day may be left out;
// counts are in notes.
type Facts struct {
	Currency        string // ISO 4217 code, for the usual bundle sizes
	Day             cashmath.Day
	Previous        *cashmath.Day    // the period before
	Declared        cashmath.Notes   // what the machine was told it holds: load and top-ups
	Noted           []cashmath.Notes // top-ups noted somewhere and not in Day.Topups
	Capacity        cashmath.Notes   // room per face value
	Bundle          cashmath.Notes   // notes per bundle
	MachineRejected cashmath.Notes   // the machine's own count of refused notes
	Jams            int64            // notes stuck on the way, how often
	LargestDispense int64            // most notes paid out at once
}

// Slip is one mistake that may have happened. Fields that mean nothing for its kind
// are left empty.
type Slip struct {
	ID        ID
	Face      cashmath.Face
	OtherFace cashmath.Face // the second line of a slip over two lines
	Field     Field
	Lot       int    // which entry of Topups or Removed, from 0
	Typed     *int64 // what stands in the record
	Likely    *int64 // what would make the day balance
	Check     string // what to look at next, one English sentence
}

// Cause is one complete explanation of the difference: one or two slips. Rank 1 is
// the best; equally good explanations share a rank.
type Cause struct {
	Rank  int
	Slips []Slip
}
