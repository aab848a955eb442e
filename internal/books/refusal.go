package books

import (
	"fmt"
	"maps"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
)

// Code says why the books do not take a record. The list is closed, see [Codes].
type Code string

// Of a period and its count.
const (
	DayOpen     Code = "day-open"     // a period begins while another is open
	DayClosed   Code = "day-closed"   // the period is closed and takes no more of this
	NotCounted  Code = "not-counted"  // a close comes before the count
	LoadedAgain Code = "loaded-again" // what the period left was loaded again
	DayUnknown  Code = "day-unknown"  // the period is not at hand: long past, undone or never begun
	NoCount     Code = "no-count"     // nobody counted, or counted anew since
	StoodBy     Code = "stood-by"     // a second person stands by the count already
	OwnCount    Code = "own-count"    // whoever counted cannot be the second person
)

// Of notes and where they are.
const (
	NoBox          Code = "no-box"          // the period has no box like this
	BelowNone      Code = "below-none"      // fewer than no notes
	WrongFigure    Code = "wrong-figure"    // the figure belongs to another kind of record
	NoMove         Code = "no-move"         // notes cannot move between these two places
	BadMove        Code = "bad-move"        // a movement of nothing, to where it came from, or beyond our places
	TooFew         Code = "too-few"         // more would leave a place inside the machine than it holds
	TestsElsewhere Code = "tests-elsewhere" // test notes cannot go there
	FoundElsewhere Code = "found-elsewhere" // notes that were found cannot go there
)

// Of money.
const (
	OneTotal    Code = "one-total"    // a printed total is one amount
	WrongAmount Code = "wrong-amount" // the amount belongs to another kind of record, or is not above nothing
	NoAmount    Code = "no-amount"    // a payment of nothing, or one that only says what an earlier was for
	PartsLeft   Code = "parts-left"   // the parts of a payment do not add up to it
)

// Of faults and visits.
const (
	NoTopic Code = "no-topic" // an incident without a topic
	NoFault Code = "no-fault" // the incident is not at hand
	NoVisit Code = "no-visit" // there is no visit to end
)

// Of corrections.
const (
	NoRecord     Code = "no-record"     // there is no such record
	Uncorrected  Code = "uncorrected"   // a record of this kind is worked out or only noted, not corrected
	NoReason     Code = "no-reason"     // a correction needs a reason
	NeedsAnother Code = "needs-another" // a record of this kind cannot just be taken back
	OtherKind    Code = "other-kind"    // a record of another kind cannot hold in its place
	WasUndone    Code = "was-undone"    // the record was undone
	Unfit        Code = "unfit"         // with the correction, this record or a later one cannot be
)

// Codes lists every code, sorted.
func Codes() []Code { return slices.Sorted(maps.Keys(refusals)) }

// Refusal is an error that says why the books do not take a record. Any other
// error of the package means a file that is broken or a program that is older
// than its file. Of the figures only those are set that the code's text names.
type Refusal struct {
	Code   Code            // one of [Codes]
	Kind   Kind            // of the record
	Was    Kind            // OtherKind: of the record in whose place it should hold
	Field  Field           // of the figure or amount
	Period int64           // number of the period
	Entry  int64           // number of the record meant
	By     int64           // WasUndone: number of the record that undid it
	Box    int             // position of the box
	From   Place           // TooFew, NoMove, BadMove
	To     Place           // NoMove, BadMove, TestsElsewhere, FoundElsewhere
	Face   cashmath.Face   // of the notes
	Have   int64           // TooFew: notes that are there
	Want   int64           // TooFew, BadMove: notes that should move
	Value  decimal.Decimal // WrongAmount, NoAmount, PartsLeft: the money
	cause  error           // Unfit
}

// refusals words each code for logs and for whoever checks a file.
var refusals = map[Code]func(r *Refusal) string{
	DayOpen:    func(r *Refusal) string { return fmt.Sprintf("period %d is still open", r.Period) },
	DayClosed:  func(r *Refusal) string { return fmt.Sprintf("period %d is closed", r.Period) },
	NotCounted: func(r *Refusal) string { return fmt.Sprintf("period %d is open", r.Period) },
	LoadedAgain: func(r *Refusal) string {
		return fmt.Sprintf("what period %d left was loaded again", r.Period)
	},
	DayUnknown: func(r *Refusal) string { return fmt.Sprintf("period %d is not at hand", r.Period) },
	NoCount: func(r *Refusal) string {
		return fmt.Sprintf("period %d has no such count to stand by", r.Period)
	},
	StoodBy: func(r *Refusal) string {
		return fmt.Sprintf("somebody stood by the count of period %d already", r.Period)
	},
	OwnCount: func(*Refusal) string { return "whoever counted cannot be the second person" },

	NoBox: func(r *Refusal) string {
		return fmt.Sprintf("period %d has no box %d of %s", r.Period, r.Box, r.Face)
	},
	BelowNone: func(r *Refusal) string {
		return fmt.Sprintf("%s of %s is negative", r.Field, r.Face)
	},
	WrongFigure: func(r *Refusal) string {
		return fmt.Sprintf("%s has no place in a %s", r.Field, r.Kind)
	},
	NoMove: func(r *Refusal) string {
		return fmt.Sprintf("notes of %s cannot move from %s to %s", r.Face, r.From, r.To)
	},
	BadMove: func(r *Refusal) string {
		return fmt.Sprintf("movement %s to %s of %d notes of %s is not well formed",
			r.From, r.To, r.Want, r.Face)
	},
	TooFew: func(r *Refusal) string {
		return fmt.Sprintf("%s holds %d notes of %s, %d cannot leave", r.From, r.Have, r.Face, r.Want)
	},
	TestsElsewhere: func(r *Refusal) string { return fmt.Sprintf("test notes cannot go to %s", r.To) },
	FoundElsewhere: func(r *Refusal) string {
		return fmt.Sprintf("found notes cannot go to %s", r.To)
	},

	OneTotal: func(*Refusal) string { return "a printed total is one amount" },
	WrongAmount: func(r *Refusal) string {
		return fmt.Sprintf("%s of %s has no place in a %s", r.Field, r.Value, r.Kind)
	},
	NoAmount: func(r *Refusal) string { return fmt.Sprintf("a %s cannot be of %s", r.Kind, r.Value) },
	PartsLeft: func(r *Refusal) string {
		return fmt.Sprintf("the parts of the payment leave %s over", r.Value)
	},

	NoTopic: func(*Refusal) string { return "an incident without a topic" },
	NoFault: func(r *Refusal) string {
		return fmt.Sprintf("news of an incident %d that is not at hand", r.Entry)
	},
	NoVisit: func(r *Refusal) string { return fmt.Sprintf("there is no visit %d to end", r.Entry) },

	NoRecord: func(r *Refusal) string {
		return fmt.Sprintf("there is no entry %d to correct", r.Entry)
	},
	Uncorrected: func(r *Refusal) string {
		return fmt.Sprintf("a record of kind %s cannot be corrected", r.Kind)
	},
	NoReason: func(*Refusal) string { return "a correction needs a reason" },
	NeedsAnother: func(r *Refusal) string {
		return fmt.Sprintf("a record of kind %s needs another in its place", r.Kind)
	},
	OtherKind: func(r *Refusal) string {
		return fmt.Sprintf("a record of kind %s cannot hold in the place of one of kind %s", r.Kind, r.Was)
	},
	WasUndone: func(r *Refusal) string {
		return fmt.Sprintf("entry %d was undone by entry %d", r.Entry, r.By)
	},
	Unfit: func(r *Refusal) string {
		return fmt.Sprintf("entry %d cannot be corrected so: %v", r.Entry, r.cause)
	},
}

// Error words the refusal with its figures, in the books' own terms. People
// read a sentence by its code instead.
func (r *Refusal) Error() string { return refusals[r.Code](r) }

// Unwrap gives what does not fit with a correction.
func (r *Refusal) Unwrap() error { return r.cause }
