package chat

import (
	"strings"
	"unicode/utf8"
)

// Columns lines up rows for a fixed-width font: the first columns to the left,
// the rest to the right. Trailing blanks are cut.
func Columns(left int, rows [][]string) Block {
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
	return Block{Text: strings.Join(lines, "\n"), Fixed: true}
}

// Lines makes a block of plain lines.
func Lines(lines ...string) Block {
	var kept []string
	for _, l := range lines {
		if l != "" {
			kept = append(kept, l)
		}
	}
	return Block{Text: strings.Join(kept, "\n")}
}
