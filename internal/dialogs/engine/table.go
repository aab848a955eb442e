package engine

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"shopfloat/internal/chat"
)

// Columns lines up rows for a fixed-width font: the first columns to the left,
// the rest to the right. Trailing blanks are cut.
func Columns(left int, rows [][]string) chat.Block {
	var width []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(width) {
				width = append(width, 0)
			}
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	lines := make([]string, 0, len(rows))
	for _, row := range rows {
		var b strings.Builder
		for i, cell := range row {
			if i > 0 {
				b.WriteString("  ")
			}
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
			if i < left {
				b.WriteString(cell + pad)
			} else {
				b.WriteString(pad + cell)
			}
		}
		lines = append(lines, strings.TrimRight(b.String(), " "))
	}
	return chat.Block{Text: strings.Join(lines, "\n"), Fixed: true}
}

// Lock reminds of the safe, unless what is told happened earlier.
func (c *Talk) Lock() string {
	if !c.State.Draft.Happened.IsZero() {
		return ""
	}
	return c.V.Say("lock")
}

// Upper begins a sentence with a capital letter.
func Upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// Text makes a block of plain lines.
func Text(lines ...string) chat.Block {
	var kept []string
	for _, l := range lines {
		if l != "" {
			kept = append(kept, l)
		}
	}
	return chat.Block{Text: strings.Join(kept, "\n")}
}
