package statement_test

import (
	"errors"
	"strings"
	"testing"

	"shopfloat/internal/statement"
)

// table reads a table and gives its lines in short.
func table(text string, opt statement.Options) (string, statement.Report, error) {
	var list []string
	report, err := statement.Read(strings.NewReader(text), int64(len(text)), opt, func(l statement.Line) error {
		list = append(list, string(l.Day)+" "+l.Amount.String())
		return nil
	})
	return strings.Join(list, ", "), report, err
}

// A table whose headings say nothing is read by the columns that a person names,
// and the next one of the same bank by what was said then.
func TestSaidColumns(t *testing.T) {
	const first = "Wann;Wohin;Wieviel;Rest\n14.11.2026;Rent;-900,00;100,00\n" +
		"16.11.2026;Cash machine;1.234,50;1.334,50\n"
	_, report, err := table(first, statement.Options{})
	var p *statement.Problem
	if !errors.As(err, &p) || p.Code != statement.NoColumns || report.Unsure == nil {
		t.Fatalf("%v, %+v", err, report)
	}
	const shown = "Wann 14.11.2026|Wohin Rent|Wieviel -900,00|Rest 100,00"
	if got := strings.Join(report.Unsure.Columns, "|"); got != shown {
		t.Errorf("columns %s, want %s", got, shown)
	}
	said := map[statement.Role]int{statement.ByDay: 0, statement.ByAmount: 2}
	got, report, err := table(first, statement.Options{Said: said})
	if err != nil || got != "2026-11-14 -900, 2026-11-16 1234.5" {
		t.Errorf("%s, %v", got, err)
	}
	const next = "Wann;Wohin;Wieviel;Rest\n01.12.2026;Cash machine;4.380,00;5.714,50\n" +
		"02.12.2026;Rent;-900,00;4.814,50\n"
	known := map[string]statement.Layout{report.Head: *report.Layout}
	if got, _, err = table(next, statement.Options{Layouts: known}); err != nil ||
		got != "2026-12-01 4380, 2026-12-02 -900" {
		t.Errorf("the next one: %s, %v", got, err)
	}
	other := strings.Replace(next, "Wann", "Tag", 1)
	if got, _, err = table(other, statement.Options{Layouts: known}); err == nil {
		t.Errorf("another bank's table is taken for this one's: %s", got)
	}
}

// Days up to the twelfth alone leave their order open; the date that is asked about
// is one that can be read two ways.
func TestUnsureDates(t *testing.T) {
	const text = "Date,Amount\n05/05/2026,1.00\n06/07/2026,2.00\n"
	_, report, err := table(text, statement.Options{})
	if err == nil || report.Unsure == nil || report.Unsure.Dates != "06/07/2026" {
		t.Fatalf("%v, %+v", err, report.Unsure)
	}
	for order, want := range map[statement.Order]string{
		statement.DayFirst: "2026-05-05 1, 2026-07-06 2", statement.MonthDay: "2026-05-05 1, 2026-06-07 2"} {
		if got, _, err := table(text, statement.Options{Dates: order}); err != nil || got != want {
			t.Errorf("%s: %s, %v; want %s", order, got, err, want)
		}
	}
}
