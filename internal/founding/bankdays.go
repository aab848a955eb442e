package founding

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/counts"
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
	number := texts.Fold(typed)
	for _, after := range t.V.List("words.bank-after") {
		number = strings.TrimPrefix(number, after+" ")
	}
	for _, days := range t.V.List("words.bank-days") { // the longest first
		number = strings.TrimSuffix(number, " "+days)
	}
	res := counts.Parse(number, counts.Request{Lines: []counts.Line{{Face: "1"}}})
	if res.Problem == nil && res.Bare && len(res.Items) == 1 {
		return strconv.FormatInt(res.Items[0].Notes, 10)
	}
	return typed
}
