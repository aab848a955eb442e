package telling

import (
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/texts"
)

// Notes names a handful of notes: 2 twenties, 1 ten.
func (t *Teller) Notes(n books.Notes) string {
	out := ""
	for i, f := range n.Faces() {
		if i > 0 {
			out += ", "
		}
		out += t.V.Count("notes-of", n[f], "kind", t.V.Kind(f))
	}
	return out
}

// Sums joins sums of money that are never added up, each of a currency of its own:
// €13,200 and £2,150.
func Sums(v *texts.Voice, parts []string) string {
	last := len(parts) - 1
	if last < 1 {
		return strings.Join(parts, "")
	}
	return v.Say("sums.and", "list", strings.Join(parts[:last], ", "), "last", parts[last])
}
