// Package sheet prints the paper form for a day without phone or line. It asks
// for the same figures in the same order as the chat, so that it can be copied
// in line by line afterwards.
package sheet

import (
	"embed"
	"fmt"
	"io"
	"strings"
	"text/template"
	"unicode/utf8"

	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

//go:embed *.txt
var forms embed.FS

// pageColumns fits A4 at ten characters to the inch with margins of 5 mm.
const pageColumns = 79

// page is what the form says about one machine.
type page struct {
	Shop, Machine string
	Limit         string // most cash allowed inside; empty for none
	Checked       bool
	Tests         bool
	Nightly       bool
	SafeOpen      bool
	Boxes         []box
	Kinds         []string
	Rows, Few     []struct{} // lines to fill in
}

type box struct{ Name, Short, Face string }

// Write prints the form for one machine: two pages of plain text, parted by a
// form feed. Money is written as the voice does.
func Write(w io.Writer, v *texts.Voice, s *shop.Shop, m *shop.Machine) error {
	form, err := template.New("").Funcs(template.FuncMap{
		"left": left, "right": right,
		"blank": func(n int) string { return strings.Repeat("_", n) },
		"rule":  func() string { return strings.Repeat("=", pageColumns) },
	}).ParseFS(forms, "sheet.en.txt")
	if err != nil {
		return err
	}
	p := fill(v, s, m)
	var pages strings.Builder
	for i, name := range []string{"morning", "evening"} {
		if i > 0 {
			pages.WriteString("\f")
		}
		if err := form.ExecuteTemplate(&pages, name, p); err != nil {
			return err
		}
	}
	for line := range strings.Lines(pages.String()) {
		if _, err := io.WriteString(w, strings.TrimRight(line, " \n")+"\n"); err != nil {
			return err
		}
	}
	return nil
}

func fill(v *texts.Voice, s *shop.Shop, m *shop.Machine) page {
	p := page{
		Shop: s.Name, Machine: m.Name, Checked: s.Checked, Tests: m.TestDispense,
		Nightly: s.Nightly, SafeOpen: s.Nightly && s.SafeOpen,
		Rows: make([]struct{}, 4), Few: make([]struct{}, 3),
	}
	if s.Limit.IsPositive() {
		p.Limit = v.Money(s.Limit)
	}
	for _, b := range m.Boxes {
		p.Boxes = append(p.Boxes, box{
			Name:  fmt.Sprintf("%-10s %s", place(b.Position, len(m.Boxes)), v.Kind(b.Face)),
			Short: fmt.Sprintf("%d: %s", b.Position, v.Kind(b.Face)),
			Face:  v.Money(b.Face.Decimal()),
		})
	}
	for _, f := range m.Faces() {
		p.Kinds = append(p.Kinds, v.Kind(f))
	}
	return p
}

// place says where a box sits; the top one is 1.
func place(position, boxes int) string {
	switch {
	case boxes == 1:
		return "1"
	case position == 1:
		return "1 (top)"
	case position == boxes:
		return fmt.Sprintf("%d (bottom)", position)
	}
	return fmt.Sprint(position)
}

func left(width int, s string) string {
	return s + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s)))
}

func right(width int, s string) string {
	return strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s))) + s
}
