package dialogs_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/past"
)

// What a spreadsheet takes for a formula gets an apostrophe (OWASP, CSV
// Injection: cells that begin with = + - @, tab or carriage return).
func TestCell(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "Ben": "Ben", "-40.00": "-40.00", "40": "40", "2026-11-24": "2026-11-24",
		"=1+1": "'=1+1", "+1": "'+1", "-1+1": "'-1+1", "@SUM(A1)": "'@SUM(A1)",
		"\tx": "'\tx", "\r=1": "'\r=1", "  =1": "'  =1",
		"\n=1": "'\n=1", "=cmd|' /C calc'!A0": "'=cmd|' /C calc'!A0",
	} {
		if got := past.Cell(in); got != want {
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
		cell := past.Cell(s)
		if c := strings.TrimLeft(cell, " \u00a0"); c != "" && strings.ContainsAny(c[:1], "=+@\t\r\n|%") {
			t.Fatalf("%q begins like a formula", cell)
		}
		rows, err := csv.NewReader(strings.NewReader(string(past.CSV([]string{"a", "b"},
			[][]string{{s, "x"}})))).ReadAll()
		if err != nil || len(rows) != 2 {
			t.Fatalf("%q: %d rows: %v", s, len(rows), err)
		}
		if want := strings.ReplaceAll(cell, "\r", ""); strings.ReplaceAll(rows[1][0], "\r", "") != want {
			t.Fatalf("%q came back as %q", cell,
				rows[1][0]) // lines end alike, with a carriage return or without
		}
	})
}

// A month as a file: figures by hand, the name of who closed made safe.
func TestExport(t *testing.T) {
	f := newFloor(t)
	f.Shop.People[1].Name = "=Ben"
	var file *chat.File
	f.Check = func(r chat.Reply) {
		if r.File != nil {
			file = r.File
		}
	}
	f.Play(`
		@2026-11-23 06:40
		staff1: open 40 150 200
		staff1: [Confirm]
		@2026-11-23 21:05
		staff1: close 12 60 80
		staff1: [No, it is]
		staff1: [No, nothing]
		staff1: [Confirm]
		staff1: 50x28 20x91 10x120
		staff1: 20x2
		staff1: [Confirm]
		@2026-11-24 09:00
		owner: credit 4375 for monday
		owner: [The bank took off]
		owner: export november
	`)
	if file == nil || file.Name != "2026-11.csv" {
		t.Fatalf("file %+v", file)
	}
	// 28 x 50 + 91 x 20 + 120 x 10 = 4,420 paid out, 40 of it cancelled: due 4,380.
	// 150 - 91 + 2 = 61 twenties should be inside, 60 are: 20 missing.
	want := "date,from till,from bank,paid out,reversed,test notes,variance,due,credited,fees,charges,open," +
		"closed by\r\n" +
		"2026-11-23,0.00,0.00,4420.00,40.00,0.00,-20.00,4380.00,4380.00,0.00,0.00,0.00,'=Ben\r\n" +
		"2026-11-24,0.00,0.00,0.00,0.00,0.00,0.00,0.00,0.00,0.00,5.00,0.00,\r\n" +
		"total,0.00,0.00,4420.00,40.00,0.00,-20.00,4380.00,4380.00,0.00,5.00,0.00,\r\n"
	if got := string(file.Data); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
