// Package xlsx writes a workbook of Office Open XML (ISO/IEC 29500, SpreadsheetML): texts,
// numbers to the last digit, dates and formulas, each with a number format, in plain or bold
// letters. It writes nothing else and reads nothing.
package xlsx

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"time"
)

// Style is how a cell looks.
type Style struct {
	Format string // of numbers, as the standard writes them: "#,##0.00"; empty: as it is
	Bold   bool
}

// Book is a workbook in the making. The zero value is empty.
type Book struct {
	sheets []*Sheet
	styles []Style
}

// Sheet is a sheet in the making. Its cells are written row by row, each from left to right.
type Sheet struct {
	name     string
	book     *Book
	head     bool // the first row stays in sight
	width    int  // of the first columns, in letters
	columns  int  // so many have it
	row, col int  // of the last cell
	data     bytes.Buffer
	err      error
}

// Sheet adds a sheet. The name is the caller's to be unique and at most 31 letters long.
func (b *Book) Sheet(name string) *Sheet {
	s := &Sheet{name: name, book: b}
	b.sheets = append(b.sheets, s)
	return s
}

// KeepHead keeps the first row in sight.
func (s *Sheet) KeepHead() { s.head = true }

// Widen makes the first columns so many letters wide.
func (s *Sheet) Widen(columns, letters int) { s.columns, s.width = columns, letters }

// Text writes a text, which is never taken for a formula. An empty one leaves the cell empty.
func (s *Sheet) Text(column, row int, text string, style Style) {
	if text != "" {
		s.cell(column, row, style, ` t="inlineStr"`, `<is><t xml:space="preserve">`+escaped(text)+`</t></is>`)
	}
}

// Number writes a number given by its digits, so that it is the very same.
func (s *Sheet) Number(column, row int, digits string, style Style) {
	s.cell(column, row, style, "", "<v>"+escaped(digits)+"</v>")
}

// Date writes a day, which is a count of days to the format; style says how it is shown.
func (s *Sheet) Date(column, row int, day time.Time, style Style) {
	first := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC) // day 0 from March 1900 on
	days := day.UTC().Sub(first) / (24 * time.Hour)
	s.Number(column, row, strconv.Itoa(int(days)), style)
}

// Formula writes what is worked out when the workbook is opened: "SUM(A1:A9)".
func (s *Sheet) Formula(column, row int, formula string, style Style) {
	s.cell(column, row, style, "", "<f>"+escaped(formula)+"</f>")
}

func (s *Sheet) cell(column, row int, style Style, kind, content string) {
	if column < 1 || row < s.row || row == s.row && column <= s.col {
		s.err = fmt.Errorf("sheet %s: cell %d in row %d behind %d in row %d", s.name, column, row, s.col, s.row)
		return
	}
	if row > s.row {
		s.endRow()
		fmt.Fprintf(&s.data, `<row r="%d">`, row)
	}
	s.row, s.col = row, column
	look := ""
	if n := s.book.style(style); n > 0 {
		look = fmt.Sprintf(` s="%d"`, n)
	}
	fmt.Fprintf(&s.data, `<c r="%s%d"%s%s>%s</c>`, Column(column), row, look, kind, content)
}

func (s *Sheet) endRow() {
	if s.row > 0 {
		s.data.WriteString("</row>")
	}
}

// style gives the number of a style; the plain one is 0.
func (b *Book) style(s Style) int {
	if s == (Style{}) {
		return 0
	}
	for i, have := range b.styles {
		if have == s {
			return i + 1
		}
	}
	b.styles = append(b.styles, s)
	return len(b.styles)
}

// Column is the name of a column from 1 on: A to Z, AA and so on.
func Column(n int) string {
	name := ""
	for ; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}

func escaped(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a buffer takes everything
	return b.String()
}

const (
	declared = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	main     = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	relation = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	packaged = "http://schemas.openxmlformats.org/package/2006/"
	kindOf   = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

// WriteTo writes the workbook, the same for the same cells. n counts what went into the package
// before it was packed.
func (b *Book) WriteTo(to io.Writer) (n int64, err error) {
	z := zip.NewWriter(to)
	add := func(name, text string) {
		var part io.Writer
		if err == nil {
			part, err = z.Create(name)
		}
		if err == nil {
			var k int
			k, err = io.WriteString(part, declared+text)
			n += int64(k)
		}
	}
	add("[Content_Types].xml", b.contents())
	add("_rels/.rels", fmt.Sprintf(`<Relationships xmlns="%srelationships"><Relationship Id="rId1" Type="%s`+
		`/officeDocument" Target="xl/workbook.xml"/></Relationships>`, packaged, relation))
	book, relations := b.parts()
	add("xl/workbook.xml", book)
	add("xl/_rels/workbook.xml.rels", relations)
	add("xl/styles.xml", b.looks())
	for i, s := range b.sheets {
		if s.err != nil {
			return n, s.err
		}
		add(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1), s.text(i == 0))
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		return n, fmt.Errorf("workbook: %w", err)
	}
	return n, nil
}

// contents says what kind each part is of.
func (b *Book) contents() string {
	var t bytes.Buffer
	fmt.Fprintf(&t, `<Types xmlns="%scontent-types"><Default Extension="rels" ContentType="application/`+
		`vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>`,
		packaged)
	part := func(name, kind string) {
		fmt.Fprintf(&t, `<Override PartName="/xl/%s.xml" ContentType="%s%s+xml"/>`, name, kindOf, kind)
	}
	part("workbook", "sheet.main")
	part("styles", "styles")
	for i := range b.sheets {
		part(fmt.Sprintf("worksheets/sheet%d", i+1), "worksheet")
	}
	t.WriteString("</Types>")
	return t.String()
}

// parts lists the sheets, and where each lies.
func (b *Book) parts() (book, relations string) {
	var list, links bytes.Buffer
	link := func(id int, kind, target string) {
		fmt.Fprintf(&links, `<Relationship Id="rId%d" Type="%s/%s" Target="%s.xml"/>`, id, relation, kind, target)
	}
	for i, s := range b.sheets {
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%d" r:id="rId%[2]d"/>`, escaped(s.name), i+1)
		link(i+1, "worksheet", fmt.Sprintf("worksheets/sheet%d", i+1))
	}
	link(len(b.sheets)+1, "styles", "styles")
	book = fmt.Sprintf(`<workbook xmlns="%s" xmlns:r="%s"><bookViews><workbookView/></bookViews><sheets>%s`+
		`</sheets><calcPr fullCalcOnLoad="1"/></workbook>`, main, relation, list.String())
	return book, fmt.Sprintf(`<Relationships xmlns="%srelationships">%s</Relationships>`, packaged, &links)
}

// firstFormat is the number of the first format that is no built-in one.
const firstFormat = 164

// looks lists the styles: fonts are plain or bold, formats are one for each style.
func (b *Book) looks() string {
	var formats, cells bytes.Buffer
	own := 0
	for _, s := range b.styles {
		format, font := 0, 0
		if s.Format != "" {
			format = firstFormat + own
			own++
			fmt.Fprintf(&formats, `<numFmt numFmtId="%d" formatCode="%s"/>`, format, escaped(s.Format))
		}
		if s.Bold {
			font = 1
		}
		fmt.Fprintf(&cells, `<xf numFmtId="%d" fontId="%d" fillId="0" borderId="0" xfId="0"`+
			` applyNumberFormat="1" applyFont="1"/>`, format, font)
	}
	list := ""
	if own > 0 {
		list = fmt.Sprintf(`<numFmts count="%d">%s</numFmts>`, own, formats.String())
	}
	const plain = `<xf numFmtId="0" fontId="0" fillId="0" borderId="0"`
	const font = `<sz val="11"/><name val="Calibri"/></font>`
	return fmt.Sprintf(`<styleSheet xmlns="%s">%s<fonts count="2"><font>%s<font><b/>%[3]s</fonts>`+
		`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/>`+
		`</fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>`+
		`<cellStyleXfs count="1">%[4]s/></cellStyleXfs><cellXfs count="%d">%[4]s xfId="0"/>%[6]s</cellXfs>`+
		`</styleSheet>`, main, list, font, plain, len(b.styles)+1, cells.String())
}

// text is a sheet as it is written.
func (s *Sheet) text(shown bool) string {
	var t bytes.Buffer
	fmt.Fprintf(&t, `<worksheet xmlns="%s"><sheetViews><sheetView`, main)
	if shown {
		t.WriteString(` tabSelected="1"`)
	}
	t.WriteString(` workbookViewId="0">`)
	if s.head {
		t.WriteString(`<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/>`)
	}
	t.WriteString("</sheetView></sheetViews>")
	if s.columns > 0 {
		fmt.Fprintf(&t, `<cols><col min="1" max="%d" width="%d" customWidth="1"/></cols>`, s.columns, s.width)
	}
	t.WriteString("<sheetData>")
	t.Write(s.data.Bytes())
	if s.row > 0 {
		t.WriteString("</row>")
	}
	t.WriteString("</sheetData></worksheet>")
	return t.String()
}
