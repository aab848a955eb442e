package diagnosis

import (
	"fmt"

	"shopfloat/internal/cashmath"
)

// check says in one sentence what to look at next. It asks; it accuses nobody.
func (b *books) check(s Slip) string {
	if text, fixed := fixedChecks[s.ID]; fixed {
		return text
	}
	switch s.ID {
	case LinesExchanged:
		return fmt.Sprintf("Look at the figures %s of %s and %s: does each stand on the other's line?",
			fieldWords[s.Field], s.Face, s.OtherFace)
	case WrongLine:
		return fmt.Sprintf("Look at the figure %s, %d of %s: does it belong to %s?",
			fieldWords[s.Field], *s.Typed, s.Face, s.OtherFace)
	case ValueForQuantity:
		return fmt.Sprintf("Look at the figure %s, %d of %s: is it money, which would be %d notes?",
			fieldWords[s.Field], *s.Typed, s.Face, *s.Likely)
	case BoxForgotten:
		return fmt.Sprintf("The box of %s was not counted, it seems: count that box.", s.Face)
	case SumOnLine:
		return fmt.Sprintf("Look at the figure %s, %d of %s: is it the sum of all kinds of note?",
			fieldWords[s.Field], *s.Typed, s.Face)
	case TypedInBundles:
		return fmt.Sprintf("Look at the figure %s, %d of %s: are these bundles and not notes?",
			fieldWords[s.Field], *s.Typed, s.Face)
	case DigitsTransposed, DigitSlid, KeyBeside:
		return fmt.Sprintf("Read the figure %s of %s again: %d was entered, %d would fit.",
			fieldWords[s.Field], s.Face, *s.Typed, *s.Likely)
	case CassettesExchanged:
		return fmt.Sprintf("Stop paying out and call the provider: the note boxes of %s and %s may stand "+
			"in each other's place, and then customers were paid wrongly.", s.Face, s.OtherFace)
	case BundleMiscounted:
		return fmt.Sprintf("Look for a bundle of %d notes of %s that was missed or counted twice.",
			b.perBundle(b.lineOf[s.Face]), s.Face)
	}
	return b.checkUnexplained()
}

var fixedChecks = map[ID]string{
	TopupTwice:          "Look at the two equal top-up entries: were the notes put in only once?",
	TopupUnrecorded:     "Look for the note of a top-up that went into the machine and is not on record.",
	RejectsMissed:       "Open the box for refused notes, sort and count them, and enter them.",
	RejectsCountedTwice: "Check whether the refused notes were counted a second time with the notes in the box.",
	ReversalSign:        "Look at the printed slip: are cancelled payments already taken off what was paid out?",
	CarriedOver:         "Look at the count before this one: the same notes differed there the other way round.",
	LeftInOvernight:     "Check whether notes of the period before stayed in when the machine was filled.",
	NoteInTransport: "Follow the machine's own instructions for a jam, look for notes left inside, " +
		"and enter them as found.",
	OtherDay:  "Look at the date of the printed slip: its figures are those of the day before.",
	TestNotes: "Find where the notes of the test payment lie and whether they are in the count.",
}

// fieldWords say where a figure stands in everyday words.
var fieldWords = map[Field]string{
	Loaded:    "put in at the opening",
	Topups:    "topped up",
	Removed:   "taken out",
	Dispensed: "paid out",
	Reversed:  "cancelled and not paid out",
	Remaining: "left in the box",
	Rejects:   "in the box for refused notes",
}

// checkUnexplained gives the hint that the bare difference allows, without naming a
// cause: notes of one kind for another, or bookkeeping's rule of nine.
func (b *books) checkUnexplained() string {
	const again = "Let a second person count again without knowing these figures"
	lines := b.variance.lines()
	switch {
	case len(lines) == 2 && b.variance[lines[0]] == -b.variance[lines[1]]:
		return fmt.Sprintf("%s, and look for notes of %s among those of %s, and the other way round.",
			again, b.faces[lines[0]], b.faces[lines[1]])
	case len(lines) == 1 && cashmath.NinesDivisor(b.variance[lines[0]]) != 0:
		return again + ", and read every figure once more for two digits exchanged."
	}
	return again + "."
}
