package xlsx_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"
	"time"

	"archive/zip"

	"github.com/thedatashed/xlsxreader"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"shopfloat/internal/xlsx"
)

var euro = xlsx.Style{Format: "#,##0.00", Bold: true}

func example() *xlsx.Book {
	b := &xlsx.Book{}
	s := b.Sheet("First & <last>")
	s.KeepHead()
	s.Widen(3, 13)
	s.Text(1, 1, "=1+1", xlsx.Style{Bold: true})
	s.Text(2, 1, " two\nlines \U0001F600 ", xlsx.Style{})
	s.Text(3, 1, "", xlsx.Style{})
	s.Number(1, 2, "1234567890123.45", euro)
	s.Number(2, 2, "-0.1", xlsx.Style{})
	s.Date(3, 2, time.Date(2026, 11, 9, 0, 0, 0, 0, time.UTC), xlsx.Style{Format: "yyyy-mm-dd"})
	s.Number(1, 4, "7", euro)
	s.Formula(1, 5, `SUMIF($A$1:$A$4,"<>7",A1:A4)`, euro)
	b.Sheet("Empty")
	return b
}

func written(t testing.TB, b *xlsx.Book) []byte {
	t.Helper()
	var out bytes.Buffer
	if _, err := b.WriteTo(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A library that reads, shows and works out workbooks finds what was written
// (excelize, which follows ISO/IEC 29500).
func TestAnotherLibraryReads(t *testing.T) {
	f, err := excelize.OpenReader(bytes.NewReader(written(t, example())))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	sheet := f.GetSheetList()[0]
	if list := strings.Join(f.GetSheetList(), "|"); list != "First & <last>|Empty" {
		t.Errorf("sheets %s", list)
	}
	for cell, want := range map[string]string{
		"A1": "=1+1", "B1": " two\nlines \U0001F600 ", "C1": "", "A2": "1,234,567,890,123.45", "B2": "-0.1",
		"C2": "2026-11-09", "A4": "7.00",
	} {
		if got, err := f.GetCellValue(sheet, cell); err != nil || got != want {
			t.Errorf("%s is %q, %v, want %q", cell, got, err, want)
		}
	}
	if got, err := f.CalcCellValue(sheet, "A5"); err != nil || got != "1,234,567,890,123.45" {
		t.Errorf("the formula comes to %s, %v", got, err)
	}
	panes, err := f.GetPanes(sheet)
	if err != nil || !panes.Freeze || panes.YSplit != 1 {
		t.Errorf("the head does not stay: %+v, %v", panes, err)
	}
	if wide, err := f.GetColWidth(sheet, "C"); err != nil || wide != 13 {
		t.Errorf("the third column is %v wide, %v", wide, err)
	}
	for cell, bold := range map[string]bool{"A1": true, "B1": false, "A2": true, "B2": false} {
		id, err := f.GetCellStyle(sheet, cell)
		if err != nil {
			t.Fatal(err)
		}
		look, err := f.GetStyle(id)
		if err != nil || (look.Font != nil && look.Font.Bold) != bold {
			t.Errorf("%s: bold is to be %t: %+v, %v", cell, bold, look.Font, err)
		}
	}
}

// Any text comes back letter by letter through a third reader, and every part is well formed.
func TestAnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.RuneFrom([]rune(`<>&"' =;]e0é€😀`))).Draw(t, "text")
		b := &xlsx.Book{}
		b.Sheet("A").Text(1, 1, text, xlsx.Style{})
		var out bytes.Buffer
		if _, err := b.WriteTo(&out); err != nil {
			t.Fatal(err)
		}
		wellFormed(t, out.Bytes())
		r, err := xlsxreader.NewReader(out.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for row := range r.ReadRows("A") {
			got = row.Cells[0].Value
		}
		if got != text {
			t.Fatalf("%q came back as %q", text, got)
		}
	})
}

func wellFormed(t *rapid.T, data []byte) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		part, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		for d := xml.NewDecoder(part); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
		}
	}
}

// The same cells give the same bytes; cells out of their order are refused.
func TestSameBytesInOrder(t *testing.T) {
	if !bytes.Equal(written(t, example()), written(t, example())) {
		t.Error("the same workbook is written in two ways")
	}
	for _, second := range [][2]int{{2, 2}, {1, 2}, {3, 1}, {0, 3}} {
		b := &xlsx.Book{}
		s := b.Sheet("A")
		s.Number(2, 2, "1", xlsx.Style{})
		s.Number(second[0], second[1], "2", xlsx.Style{})
		if _, err := b.WriteTo(io.Discard); err == nil {
			t.Errorf("a cell at %v behind one at 2, 2 was taken", second)
		}
	}
}

func TestColumn(t *testing.T) {
	for n, want := range map[int]string{1: "A", 26: "Z", 27: "AA", 52: "AZ", 53: "BA", 702: "ZZ", 703: "AAA"} {
		got := xlsx.Column(n)
		if other, _ := excelize.ColumnNumberToName(n); got != want || other != want {
			t.Errorf("column %d is %s, want %s", n, got, want)
		}
	}
}
