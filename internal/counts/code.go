package counts

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
