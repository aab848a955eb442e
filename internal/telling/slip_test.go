package telling_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/telling"
)

// A slip of long kinds and sums stands side by side on a phone: 42 letters, as the voice has it.
func TestSlipTableFits(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	c.V = c.All.In("en", "JP", "JPY")
	var r books.Record
	for _, field := range []books.Field{books.PaidOut, books.Cancelled, books.LastSeen} {
		r.Figures = append(r.Figures, books.Figure{Field: field, Face: "10000", Notes: 91})
	}
	for line := range strings.Lines(telling.SlipTable(c.Teller, r).Text) {
		if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 42 {
			t.Errorf("%d letters: %q", n, line)
		}
	}
}
