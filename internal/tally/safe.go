package tally

import (
	"strings"

	"github.com/shopspring/decimal"
)

// SafeCell makes a cell that no spreadsheet takes for a formula: one that begins
// with a sign of a formula, after blanks too, gets an apostrophe in front, unless
// it is a number (OWASP, CSV Injection: = + - @ tab and carriage return).
func SafeCell(s string) string {
	if _, err := decimal.NewFromString(s); err == nil && !strings.HasPrefix(s, "+") {
		return s
	}
	if t := strings.TrimLeft(s, " \u00a0"); t != "" && strings.ContainsAny(t[:1], "=+-@\t\r\n|%") {
		return "'" + s
	}
	return s
}
