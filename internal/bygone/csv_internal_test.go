package bygone

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"shopfloat/internal/tally"
)

// What a spreadsheet takes for a formula gets an apostrophe (OWASP, CSV
// Injection: cells that begin with = + - @, tab or carriage return).
func TestSafeCell(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "Ben": "Ben", "-40.00": "-40.00", "40": "40", "2026-11-24": "2026-11-24",
		"=1+1": "'=1+1", "+1": "'+1", "-1+1": "'-1+1", "@SUM(A1)": "'@SUM(A1)",
		"\tx": "'\tx", "\r=1": "'\r=1", "  =1": "'  =1",
		"\n=1": "'\n=1", "=cmd|' /C calc'!A0": "'=cmd|' /C calc'!A0",
		"\uff1d1+1": "'\uff1d1+1", "\u200b=1": "'\u200b=1", "\uff0b1": "'\uff0b1",
	} {
		if got := tally.SafeCell(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// No cell begins like a formula, and every one is read back as it was written.
func FuzzCSV(f *testing.F) {
	for _, s := range []string{"", "Ben", "=1+1", "a,b", "\"", "-5", "\r\n=1", "\u00a0=1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		cell := tally.SafeCell(s)
		if c := strings.TrimLeft(cell, " \u00a0"); c != "" && strings.ContainsAny(c[:1], "=+@\t\r\n|%") {
			t.Fatalf("%q begins like a formula", cell)
		}
		file := csvFile([]string{"a", "b"}, [][]string{{s, "x"}})
		rows, err := csv.NewReader(bytes.NewReader(file)).ReadAll()
		if err != nil || len(rows) != 2 {
			t.Fatalf("%q: %d rows: %v", s, len(rows), err)
		}
		if want := strings.ReplaceAll(cell, "\r", ""); strings.ReplaceAll(rows[1][0], "\r", "") != want {
			t.Fatalf("%q came back as %q", cell, rows[1][0]) // lines end alike, with a carriage return or without
		}
	})
}
