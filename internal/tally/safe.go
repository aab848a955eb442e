package tally

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/names"
)

// SafeCell makes a cell that no spreadsheet takes for a formula: one that begins
// with a sign of a formula, after blanks too and in whatever width it is written,
// gets an apostrophe in front, unless it is a number (OWASP, CSV Injection: = + - @
// tab and carriage return).
func SafeCell(s string) string {
	if _, err := decimal.NewFromString(s); err == nil && !strings.HasPrefix(s, "+") {
		return s
	}
	t := strings.TrimLeft(s, " \u00a0")
	if names.Formula(s) || t != "" && strings.ContainsAny(t[:1], "\t\r\n|%") {
		return "'" + s
	}
	return s
}
