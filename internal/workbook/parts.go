package workbook

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/shop"
)

// file is a workbook in the making: the few parts of the format that tables of dates,
// amounts and texts need. A library that can write all of it took five million bytes of
// the program, since it calls methods by name, so that the linker keeps every one.
type file struct {
	sheets []*sheet
	texts  []string // each once, by number
	number map[string]int
	styles []style
}

// style is how a cell looks: a format of numbers, none for texts.
type style struct {
	format string
	bold   bool
}

// sheet is a table: its columns' widths, and its rows so far, from the first to the last.
type sheet struct {
	name   string
	widths []float64
	rows   bytes.Buffer
	row    int // the one that is being written
}

func newFile() *file {
	return &file{number: map[string]int{}, styles: []style{{}}}
}

func (f *file) add(name string) *sheet {
	s := &sheet{name: name}
	f.sheets = append(f.sheets, s)
	return s
}

// look gives the number of a style.
func (f *file) look(s style) int {
	if i := slices.Index(f.styles, s); i >= 0 {
		return i
	}
	f.styles = append(f.styles, s)
	return len(f.styles) - 1
}

// cell writes a cell behind the last one of its row, or into a row further down.
func (s *sheet) cell(column, row int, kind string, look int, content string) {
	if row != s.row {
		s.end()
		s.row = row
		fmt.Fprintf(&s.rows, `<row r="%d">`, row)
	}
	if look > 0 {
		kind = fmt.Sprintf(` s="%d"%s`, look, kind)
	}
	fmt.Fprintf(&s.rows, `<c r="%s"%s>%s</c>`, at(column, row), kind, content)
}

// end ends the row that is being written.
func (s *sheet) end() {
	if s.row > 0 {
		s.rows.WriteString("</row>")
	}
}

// text writes a text, which stays one whatever it begins with; an empty one is no cell.
func (f *file) text(s *sheet, column, row int, text string, bold bool) {
	if text == "" {
		return
	}
	n, ok := f.number[text]
	if !ok {
		n = len(f.texts)
		f.texts, f.number[text] = append(f.texts, text), n
	}
	s.cell(column, row, ` t="s"`, f.look(style{bold: bold}), fmt.Sprintf("<v>%d</v>", n))
}

// value writes a number by its digits.
func (f *file) value(s *sheet, column, row int, digits, format string) {
	s.cell(column, row, "", f.look(style{format: format}), "<v>"+digits+"</v>")
}

// formula writes a formula and what it comes to.
func (f *file) formula(s *sheet, column, row int, formula, digits, format string) {
	s.cell(column, row, "", f.look(style{format, true}), "<f>"+escape(formula)+"</f><v>"+digits+"</v>")
}

// date writes a day as the format counts them: 1 was the first day of 1900, and a 29 February
// of that year is counted that there was not.
func (f *file) date(s *sheet, column, row int, day shop.Date) {
	const one = 24 * time.Hour
	since := day.Time().In(time.UTC).Sub(time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC))
	f.value(s, column, row, strconv.FormatInt(int64(since/one), 10), dates)
}

// at names a cell: columns are A to Z, then AA and so on.
func at(column, row int) string {
	return letters(column) + strconv.Itoa(row)
}

func letters(column int) (name string) {
	for ; column > 0; column = (column - 1) / 26 {
		name = string(rune('A'+(column-1)%26)) + name
	}
	return name
}

// code is what the format would read as the code of a letter.
var code = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// escape writes a text for XML, cut to what a cell can hold.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(cut(s, 32767))) // a builder takes all
	if s = b.String(); code.MatchString(s) {
		return strings.ReplaceAll(s, "_x", "_x005F_x") // an underscore by its code: each could begin one
	}
	return s
}

const (
	head     = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	mainNS   = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`
	relation = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	packaged = "http://schemas.openxmlformats.org/package/2006/"
	table    = "application/vnd.openxmlformats-officedocument.spreadsheetml."
)

// write writes the parts (ISO/IEC 29500, SpreadsheetML, as remembered and as read by other programs).
func (f *file) write(to io.Writer) error {
	z := zip.NewWriter(to)
	put := func(name, content string) error {
		w, err := z.Create(name)
		if err == nil {
			_, err = io.WriteString(w, head+content)
		}
		return err
	}
	var types, list, links strings.Builder
	link := func(kind, part, content string) {
		fmt.Fprintf(&types, `<Override PartName="/xl/%s" ContentType="%s%s+xml"/>`, part, table, content)
		fmt.Fprintf(&links, `<Relationship Id="r%d" Type="%s/%s" Target="%s"/>`,
			strings.Count(links.String(), "<"), relation, kind, part)
	}
	var failed error
	for i, s := range f.sheets {
		part := fmt.Sprintf("worksheets/sheet%d.xml", i+1)
		link("worksheet", part, "worksheet")
		fmt.Fprintf(&list, `<sheet name="%s" sheetId="%d" r:id="r%d"/>`, escape(s.name), i+1, i)
		failed = errors.Join(failed, put("xl/"+part, s.part()))
	}
	link("styles", "styles.xml", "styles")
	link("sharedStrings", "sharedStrings.xml", "sharedStrings")
	return errors.Join(failed,
		put("xl/styles.xml", f.looks()),
		put("xl/sharedStrings.xml", f.shared()),
		put("xl/workbook.xml", `<workbook `+mainNS+` xmlns:r="`+relation+`"><sheets>`+list.String()+
			`</sheets><calcPr fullCalcOnLoad="1"/></workbook>`),
		put("xl/_rels/workbook.xml.rels", related(links.String())),
		put("_rels/.rels", related(`<Relationship Id="r0" Type="`+relation+
			`/officeDocument" Target="xl/workbook.xml"/>`)),
		put("[Content_Types].xml", `<Types xmlns="`+packaged+`content-types">`+
			`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>`+
			`<Override PartName="/xl/workbook.xml" ContentType="`+table+`sheet.main+xml"/>`+
			types.String()+`</Types>`),
		z.Close())
}

func related(list string) string {
	return `<Relationships xmlns="` + packaged + `relationships">` + list + `</Relationships>`
}

// part is a sheet. One with columns of a width has its first row kept in sight.
func (s *sheet) part() string {
	var b strings.Builder
	b.WriteString(`<worksheet ` + mainNS + `>`)
	if len(s.widths) > 0 {
		b.WriteString(`<sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2"` +
			` activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>`)
		for i, w := range s.widths {
			fmt.Fprintf(&b, `<col min="%d" max="%[1]d" width="%g" customWidth="1"/>`, i+1, w)
		}
		b.WriteString("</cols>")
	}
	s.end()
	b.WriteString("<sheetData>" + s.rows.String() + "</sheetData></worksheet>")
	return b.String()
}

// looks are the styles. The fonts are a plain one and a bold one; programs expect two fills.
func (f *file) looks() string {
	var formats, cells strings.Builder
	for i, s := range f.styles {
		id, bold := 0, 0
		if s.format != "" {
			id = 164 + i // those below are the format's own
			fmt.Fprintf(&formats, `<numFmt numFmtId="%d" formatCode="%s"/>`, id, escape(s.format))
		}
		if s.bold {
			bold = 1
		}
		fmt.Fprintf(&cells, `<xf numFmtId="%d" fontId="%d" fillId="0" borderId="0" xfId="0"`+
			` applyNumberFormat="1" applyFont="1"/>`, id, bold)
	}
	const font = `<sz val="11"/><name val="Calibri"/><family val="2"/></font>`
	s := `<styleSheet ` + mainNS + `>`
	if n := strings.Count(formats.String(), "<"); n > 0 {
		s += fmt.Sprintf(`<numFmts count="%d">%s</numFmts>`, n, formats.String())
	}
	return s + `<fonts count="2"><font>` + font + `<font><b/>` + font + `</fonts>` +
		`<fills count="2"><fill><patternFill patternType="none"/></fill>` +
		`<fill><patternFill patternType="gray125"/></fill></fills>` +
		`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
		`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
		fmt.Sprintf(`<cellXfs count="%d">%s</cellXfs>`, len(f.styles), cells.String()) +
		`<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`
}

// shared are the texts of all cells.
func (f *file) shared() string {
	var b strings.Builder
	fmt.Fprintf(&b, `<sst %s uniqueCount="%d">`, mainNS, len(f.texts))
	for _, s := range f.texts {
		b.WriteString(`<si><t xml:space="preserve">` + escape(s) + `</t></si>`)
	}
	return b.String() + "</sst>"
}
