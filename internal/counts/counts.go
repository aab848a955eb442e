package counts

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/amends"
)

// Bounds of what is read.
const (
	MaxRunes = 500       // of a message that is looked at at all
	MaxNotes = 9_999_999 // of one count: seven digits
)

// nearRunes is how much of a piece is given back in Problem.Near.
const nearRunes = 20

// Line is one thing a count is asked for: a note box, or a kind of note in the box for refused notes.
type Line struct {
	Face     string // canonical decimal text of the note's value, "20", "0.5"
	Position int    // of the box, 1 = first; 0 for none
	Name     string // of the box, "top"; may be empty
	Bundle   int64  // notes per bundle of this face, 0 unknown
}

// Request is what is being asked.
type Request struct {
	Lines       []Line
	Next        int    // index of the line that a bare single number answers
	Currency    string // ISO 4217 code; empty accepts any
	MinorDigits int    // decimals of the currency by ISO 4217, 0 to 3
	Values      bool   // amounts of money are as welcome as notes: the machine's printed figures
	ZeroAll     bool   // "none" or a single 0 answers every line, not only the next
	Few         bool   // a few notes of some kinds are told: "one fifty" is a note, no number
	About       string // words of what is asked, set apart by blanks, that say nothing in an answer
}

// Item is one count that was understood.
type Item struct {
	Line      int   // index into Request.Lines
	Notes     int64 // 0 to MaxNotes
	FromValue bool  // written as an amount of money: ask back unless amounts were welcome
	Value     string
}

// Problem is the first piece that was not understood. Fields that do not apply are zero, Line is then -1.
type Problem struct {
	Code  Code
	Near  string // the piece as typed (digits folded), cut to 20 runes
	Face  string // canonical text of the kind of note it is about
	Line  int    // index of the line it is about
	Value string // canonical amount for NotWhole
	Want  int    // for TooMany, TooFew: lines asked
	Got   int    // for TooMany, TooFew: numbers given
}

// Result is what a text says. Items are in the order of Request.Lines, at most one a line; those before and
// after a problem are kept.
type Result struct {
	Items   []Item
	Total   string // canonical amount of a total that was given
	Problem *Problem
	Bare    bool // one number or amount that names no box and no kind of note; it was taken for Request.Next
	Amends  bool // it says that it puts right what was said before: "i mean 160"
	Prose   bool // words that are no count language outweigh the counts: probably a question. No items then
}

// Parse reads the counts in a text that a person typed as an answer to the request. It never fails otherwise
// than by Result.Problem. The package comment lists what is understood.
func Parse(text string, req Request) Result {
	if n, ok := req.readNumber(text); ok {
		return Alone(req.Next, n)
	}
	return parse(text, req)
}

// Alone is what a number by itself says, where it answers a line.
func Alone(line int, notes int64) Result {
	return Result{Items: []Item{{Line: line, Notes: notes}}, Bare: true}
}

// maxDigits is how many digits MaxNotes has.
const maxDigits = 7

// readNumber reads a number by itself, for the line that is asked next. A none that may be for every line is
// left to the whole grammar.
func (req *Request) readNumber(text string) (notes int64, ok bool) {
	n, ok := Number(text)
	return n, ok && req.Next >= 0 && req.Next < len(req.Lines) && (n > 0 || !req.ZeroAll)
}

// Number reads what is typed most: digits alone. It is what the whole grammar makes of them, where they are
// for one line and not a none for all.
func Number(text string) (notes int64, ok bool) {
	if len(text) > maxDigits {
		return 0, false
	}
	n, err := strconv.ParseUint(text, 10, 64) // takes no sign and no grouping
	return int64(n), err == nil
}

// Digits reports whether a text is digits alone.
func Digits(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// SaysNothing reports whether a text is empty or has only words that say nothing: "now, please".
func SaysNothing(text string) bool {
	fill := func(t token) bool { return t.kind != wordToken || t.meaning.class != fillWord }
	return !slices.ContainsFunc(lex(nil, Fold(text)), fill)
}

// readAmends leaves out what only says that a figure puts another right.
func (r *reader) readAmends() { r.text, r.amends = amends.Cut(r.text) }

// parse reads a text by the whole grammar.
func parse(text string, req Request) Result {
	if tooLong(text) {
		return Result{Problem: &Problem{Code: TooLong, Near: near(Fold(text)), Line: -1}}
	}
	r := reader{text: Fold(text), req: &req}
	r.readAmends()
	r.faces = facesOf(req.Lines)
	r.tokens = lex(make([]token, 0, tokensUsual), r.text)
	r.atoms = make([]atom, 0, len(r.tokens))
	r.takeAtoms()
	p := parser{reader: &r}
	p.parse()
	return p.result()
}

func facesOf(lines []Line) []value {
	faces := make([]value, len(lines))
	for i := range lines {
		faces[i] = parseFace(lines[i].Face)
	}
	return faces
}

// near cuts a piece of the text to what a sentence can quote.
func near(s string) string {
	n := 0
	for i := range s {
		if n == nearRunes {
			return s[:i]
		}
		n++
	}
	return s
}

// Code says why a text, or a piece of it, could not be taken as a count. The sentence a person reads is made
// from it elsewhere.
type Code uint8

// The codes. OK is the zero value: nothing is wrong.
const (
	OK            Code = iota
	Empty              // nothing but blanks and punctuation
	Unreadable         // no count language: words, odd signs, "12k", "1e3"
	TooLong            // the text is longer than MaxRunes
	TooBig             // a count above MaxNotes, or an amount of more than 12 digits
	Negative           // a minus in front of a number, or one number minus another
	Fraction           // part of a note, or an amount finer than the currency's smallest coin
	UnknownFace        // a kind of note that is not asked for; Problem.Face is what was typed
	OtherCurrency      // an amount in a currency that is not the machine's
	AmbiguousFace      // one count for a kind of note that several boxes hold
	FaceOrNotes        // "20 150": the first number may be the kind of note or a number of notes
	Twice              // the same line was given twice; neither figure is kept
	NotWhole           // an amount that no whole number of notes makes; Problem.Value is the amount
	NoBundle           // bundles were given where the notes per bundle are not known
	NoCount            // a box or a kind of note was named without a number
	TooMany            // more numbers than lines: nothing bare is kept
	TooFew             // some lines in a row were answered; the rest is still open
	TotalOnly          // a total was given where each line is asked for
)

var codeNames = [...]string{
	"ok", "empty", "unreadable", "too long", "too big", "negative", "fraction", "unknown face",
	"other currency",
	"ambiguous face", "face or notes", "twice", "not whole", "no bundle", "no count", "too many", "too few",
	"total only",
}

// String returns the code's name for logs and tests, "unknown code" for a value outside the list.
func (c Code) String() string {
	if int(c) < len(codeNames) {
		return codeNames[c]
	}
	return "unknown code"
}
