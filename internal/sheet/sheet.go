// Package sheet prints the paper form for a day without phone or line. It asks
// for the same figures in the same order as the chat, so that it can be copied
// in line by line afterwards.
package sheet

import (
	_ "embed"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// form is the text of the form. A line that begins with @ and the name of a
// list stands once for each item of that list; other lines stand once. A name
// in braces is filled in from the item.
//
//go:embed sheet.en.txt
var form string

// item is what to fill in on a line, by name.
type item map[string]string

// Write prints the form for one machine: two pages of plain text, parted by a
// form feed. Money is written as the voice does.
func Write(w io.Writer, v *texts.Voice, s *shop.Shop, m *shop.Machine) error {
	lists := fill(v, s, m)
	for line := range strings.Lines(form) {
		list, text := "", line
		if marked, ok := strings.CutPrefix(line, "@"); ok {
			list, text, _ = strings.Cut(marked, " ")
		}
		items, known := lists[list]
		if !known {
			return fmt.Errorf("paper form: no list %q", list)
		}
		for _, it := range items {
			if _, err := io.WriteString(w, strings.TrimRight(it.in(text), " \n")+"\n"); err != nil {
				return err
			}
		}
	}
	return nil
}

// in puts the item's words in the place of their names.
func (it item) in(text string) string {
	pairs := make([]string, 0, 2*len(it))
	for name, word := range it {
		pairs = append(pairs, "{"+name+"}", word)
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

// fill makes the lists: what repeats, and what depends on the shop's settings.
// The list without a name is for the lines that stand once.
func fill(v *texts.Voice, s *shop.Shop, m *shop.Machine) map[string][]item {
	once := item{"shop": s.Name, "machine": m.Name, "feed": "\f"}
	lists := map[string][]item{
		"rows": make([]item, 4), "few": nil, "limit": nil, "checked": when(s.Checked),
		"tests": when(m.TestDispense), "untested": when(!m.TestDispense),
		"open": when(s.Nightly && s.SafeOpen), "empty": when(s.Nightly && !s.SafeOpen), "full": when(!s.Nightly),
	}
	if s.Limit.IsPositive() {
		lists["limit"] = []item{{"limit": v.Money(s.Limit)}}
	}
	for _, b := range m.Boxes {
		name := fmt.Sprintf("%-10s %s", place(b.Position, len(m.Boxes)), v.Kind(b.Face))
		lists["boxes"] = append(
			lists["boxes"],
			item{"box": left(27, name), "face": right(8, v.Money(b.Face.Decimal()))},
		)
		once["levels"] += "   " + left(13, fmt.Sprintf("%d: %s", b.Position, v.Kind(b.Face)))
		once["blanks"] += "   " + strings.Repeat("_", 13)
	}
	for _, f := range m.Faces() {
		lists["kinds"] = append(lists["kinds"], item{"kind": left(27, v.Kind(f))})
	}
	for range 3 {
		lists["few"] = append(lists["few"], once)
	}
	lists[""] = []item{once}
	return lists
}

// when lets a line stand or not.
func when(stands bool) []item {
	if stands {
		return []item{{}}
	}
	return nil
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
