package founding

import (
	"slices"
	"strings"

	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// BankDays is what somebody typed for a number of bank days, without blanks around it; words
// like "the next day" are one.
func BankDays(t *telling.Teller, typed string) string {
	typed = strings.TrimSpace(typed)
	if slices.Contains(t.V.List("words.bank-next"), texts.Fold(typed)) {
		return "1"
	}
	return typed
}
