package lines

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// A MistypedBox is one figure that was probably typed into the machine wrongly.
type MistypedBox struct {
	Box   books.BoxState
	Typed int64
}

// maxMistyped is how many explanations a person is shown at most.
const maxMistyped = 2

// Mistyped explains a printed total that differs from ours by one slip in
// one line: every line where there is such a slip, as long as they are few.
// diff is printed less ours.
func Mistyped(p *books.Period, diff decimal.Decimal) []MistypedBox {
	var found []MistypedBox
	for _, b := range p.Boxes {
		notes, exact := cashmath.NotesFor(diff.Abs(), b.Face)
		typed := b.Loaded + notes
		if diff.IsNegative() {
			typed = b.Loaded - notes
		}
		if exact && typed >= 0 && mistypedAs(typed, b) {
			found = append(found, MistypedBox{Box: b, Typed: typed})
		}
	}
	if len(found) > maxMistyped {
		return nil
	}
	return found
}

// mistypedAs reports whether one figure is the other mistyped.
func mistypedAs(typed int64, b books.BoxState) bool {
	value, whole := cashmath.NotesFor(cashmath.Value(b.Face, b.Loaded), "1")
	return typed == 0 && b.Loaded > 0 || whole && typed == value ||
		cashmath.Transposition(typed, b.Loaded) > 0 || cashmath.Slide(typed, b.Loaded) != cashmath.NoSlide
}
