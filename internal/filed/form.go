package filed

import (
	"bytes"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"shopfloat/internal/sheet"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
)

// Form prints the paper form of a machine, for a day without phone or line: what package sheet
// writes in columns, with lines to write on and boxes to tick.
func Form(to io.Writer, s *shop.Shop, m *shop.Machine, o Options) error {
	var text bytes.Buffer
	if err := sheet.Write(&text, o.Voice, s, m); err != nil {
		return err
	}
	p := newPage(&tally.Machine{Shop: s, Kit: m}, o, false)
	pages := strings.Split(strings.TrimRight(text.String(), "\n"), "\f")
	_, high := p.GetPageSize()
	for _, page := range pages {
		p.AddPage()
		lines := strings.Split(strings.TrimRight(page, "\n"), "\n")
		step := min((high-3*edge)/float64(len(lines)), lineHigh)
		for i, line := range lines {
			p.formLine(edge+float64(i)*step, step, line)
		}
	}
	return p.Output(to)
}

// OnLetter reports whether a country prints on Letter and not on A4.
func OnLetter(country string) bool { return country == "US" || country == "CA" }

// formColumns are those of the text of the form.
const formColumns = 80

// formParts are what stands in a line of it: words, a line to write on, a box to tick, a rule.
var formParts = regexp.MustCompile(`_+|\[ \]|={3,}|[^ _\[](?:[^ _\[]| [^ _\[])*`)

// formLine prints one line at a height; each part begins in its column.
func (p *page) formLine(y, step float64, line string) {
	column := p.wide / formColumns
	size := usual
	if line != "" && strings.TrimSpace(line) == strings.ToUpper(strings.TrimSpace(line)) && line[0] != ' ' {
		size = usual + 1
	}
	p.SetFont("go", "", size-1)
	for _, at := range formParts.FindAllStringIndex(line, -1) {
		part := line[at[0]:at[1]]
		x := edge + column*float64(utf8.RuneCountInString(line[:at[0]]))
		wide := column * float64(utf8.RuneCountInString(part))
		switch part[0] {
		case '_':
			p.Line(x, y+step*0.8, x+wide-0.5, y+step*0.8)
		case '=':
			p.Line(x, y+step/2, x+wide, y+step/2)
		case '[':
			p.Rect(x+0.5, y+step*0.2, step*0.6, step*0.6, "D")
		default:
			p.SetXY(x, y)
			p.CellFormat(p.GetStringWidth(part), step, part, "", 0, "L", false, 0, "")
		}
	}
}
