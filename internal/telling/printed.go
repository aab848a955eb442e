package telling

import (
	"regexp"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/lines"
	"shopfloat/internal/texts"
)

// SlipSays gives what stands behind words like "the slip says"; a text without them as it is.
func SlipSays(t *Teller, s string) string {
	if n, rest := texts.Begins(texts.Fold(s), t.V.List("words.slip-says")); n > 0 && rest != "" {
		return rest
	}
	return s
}

// PaidSays gives the figures of a text that says that they are the slip's, or what was paid out; false: it
// does not, and what a display says may be the notes inside.
func PaidSays(t *Teller, s string) (figures string, ok bool) {
	if rest, said := lines.PaidOut(s); said {
		return rest, true
	}
	rest := SlipSays(t, s)
	words := strings.TrimSuffix(texts.Fold(s), rest)
	return rest, rest != s && onPaper.MatchString(words) && strings.ContainsAny(rest, "0123456789")
}

var onPaper = regexp.MustCompile(`slip|receipt|print|paper`)

// PrintedDiffers says how far a printed total differs from what was put in, and which slips
// explain it; boxes is how many the machine has.
func PrintedDiffers(t *Teller, p *books.Period, printed decimal.Decimal, boxes int) []string {
	ours := p.PutIn()
	said := []string{t.V.Say("printed.differs", "printed", t.V.Money(printed), "ours", t.V.Money(ours))}
	said = append(said, TotalSlip(t, p, printed, ours)...)
	for _, s := range lines.Mistyped(p, printed.Sub(ours)) {
		name := LineName(t, lines.Line{Box: s.Box.Position, Of: boxes, Face: s.Box.Face})
		said = append(said, t.V.Say("printed.likely", "line", name, "typed", t.V.Number(s.Typed),
			"right", t.V.Number(s.Box.Loaded)))
	}
	return said
}

// TotalSlip explains a printed total that differs by a slip in the total
// itself, or by two boxes typed the other way round.
func TotalSlip(t *Teller, p *books.Period, printed, ours decimal.Decimal) []string {
	notes := int64(0)
	for _, b := range p.Boxes {
		notes += b.Loaded
	}
	switch {
	case printed.Equal(decimal.NewFromInt(notes)):
		return []string{t.V.Say("printed.notes")}
	case printed.Equal(ours.Shift(1)), printed.Shift(1).Equal(ours):
		return []string{t.V.Say("printed.zero")}
	}
	for i, a := range p.Boxes {
		for _, b := range p.Boxes[i+1:] {
			turned := cashmath.Value(a.Face, b.Loaded-a.Loaded).Add(cashmath.Value(b.Face, a.Loaded-b.Loaded))
			if a.Face != b.Face && !turned.IsZero() && turned.Equal(printed.Sub(ours)) {
				return []string{t.V.Say("printed.exchanged", "one", t.V.Kind(a.Face), "other", t.V.Kind(b.Face))}
			}
		}
	}
	return nil
}
