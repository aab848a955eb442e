package telling

import "shopfloat/internal/books"

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
