package telling

import (
	"strings"
	"unicode"

	"shopfloat/internal/shop"
)

// Heading is the first line of a card that books: what is recorded, of which day, and where for
// somebody who has several places.
func Heading(t *Teller, what string, of shop.Date, several bool) string {
	day := t.DayYear(of)
	if several {
		return t.V.Say("title-at", "what", what, "day", day, "place", Where(t))
	}
	return t.V.Say("title-of", "what", what, "day", day)
}

// NotTaken says that a text was not taken, and which. A sum of money is not said back: a locked
// screen shows the first line of a message.
func NotTaken(t *Teller, typed string) string {
	if strings.ContainsFunc(typed, func(r rune) bool { return unicode.Is(unicode.Sc, r) }) {
		return t.V.Say("not-taken-sum")
	}
	return t.V.Say("not-taken", "near", typed)
}
