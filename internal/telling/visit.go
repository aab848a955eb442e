package telling

import "shopfloat/internal/books"

// HandledLine says which notes were handled and where they are; empty for none.
func HandledLine(t *Teller, id string, n books.Notes, where books.Place) string {
	if len(n) == 0 {
		return ""
	}
	return t.V.Say(id, "notes", t.Notes(n), "where", t.V.Say("place."+string(where)))
}
