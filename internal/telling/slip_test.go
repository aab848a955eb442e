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
	for _, notes := range []int64{1, 91, 146, 1995} {
		slipFits(t, c.Teller, notes)
	}
}

func slipFits(t *testing.T, of *telling.Teller, notes int64) {
	t.Helper()
	var r books.Record
	for _, field := range []books.Field{books.PaidOut, books.Cancelled, books.LastSeen} {
		r.Figures = append(r.Figures, books.Figure{Field: field, Face: "10000", Notes: notes})
	}
	for line := range strings.Lines(telling.SlipTable(of, r).Text) {
		if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 42 {
			t.Errorf("%d letters: %q", n, line)
		}
	}
}
