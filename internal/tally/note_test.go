package tally_test

import (
	"bytes"
	"encoding/csv"
	"slices"
	"testing"
	"time"

	"github.com/thedatashed/xlsxreader"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/workbook"
)

// sealedDays is a machine with a day into which sealed bundles went uncounted, and one with a
// counted top-up.
func sealedDays(t *testing.T) *tally.Machine {
	t.Helper()
	s, err := shop.New(1, 1, shop.Example())
	if err != nil {
		t.Fatal(err)
	}
	var list []books.Entry
	for i, marks := range [][]books.Mark{{books.Uncounted}, nil} {
		day := first.Add(i)
		no := int64(len(list)) + 1
		for _, r := range []books.Record{
			{Kind: books.Opening, Day: day, Figures: []books.Figure{figure(books.Loaded, 2, 50)}},
			{Kind: books.TopUp, Period: no, Marks: marks, Figures: []books.Figure{figure(books.Added, 2, 100)}},
			{Kind: books.Count, Period: no, Figures: []books.Figure{figure(books.Remaining, 2, 150)}},
			{Kind: books.Close, Period: no, Where: books.Cash},
		} {
			r.Happened = day.Time().Add(time.Duration(9+len(list)%4) * time.Hour)
			list = append(list, books.Entry{Record: books.Ruled(r), Machine: 1, Seq: int64(len(list)) + 1, By: 1,
				Settings: 1, Recorded: r.Happened})
		}
	}
	m, err := tally.Of(s, &s.Machines[0], list, "", "")
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A file says behind all its earlier columns what nobody counted.
func TestNote(t *testing.T) {
	m := sealedDays(t)
	want := []string{"note", "top-up in sealed bundles, not counted", ""}
	var b bytes.Buffer
	if err := tally.WriteCSV(&b, []*tally.Machine{m}, func(shop.PersonID) string { return "" }); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, row := range rows {
		got = append(got, row[len(row)-1])
	}
	if !slices.Equal(got, want) {
		t.Errorf("CSV: %q", got)
	}
	b.Reset()
	if err := workbook.Write(&b, []*tally.Machine{m}, nil); err != nil {
		t.Fatal(err)
	}
	x, err := xlsxreader.NewReader(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	for _, sheet := range []string{"All machines", m.Kit.Name} {
		column, got := "", []string(nil)
		for row := range x.ReadRows(sheet) {
			for _, c := range row.Cells {
				if c.Value == "note" {
					column = c.Column
				}
				if c.Column == column && c.Value != "" {
					got = append(got, c.Value)
				}
			}
		}
		if !slices.Equal(got, want[:2]) {
			t.Errorf("%s: %q", sheet, got)
		}
	}
}
