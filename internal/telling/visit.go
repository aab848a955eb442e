package telling

import "shopfloat/internal/books"

// HandledLine says which notes were handled and where they are; empty for none.
func HandledLine(t *Teller, id string, n books.Notes, where books.Place) string {
	if len(n) == 0 {
		return ""
	}
	return t.V.Say(id, "notes", t.Notes(n), "where", t.V.Say("place."+string(where)))
}

// VisitDifference says what the two counts of a visit leave unexplained: so many notes of
// each kind more, below nought fewer.
func VisitDifference(t *Teller, between books.Notes) string {
	more, fewer := books.Notes{}, books.Notes{}
	for f, n := range between {
		more.Plus(f, max(n, 0))
		fewer.Plus(f, max(-n, 0))
	}
	switch {
	case len(fewer)+len(more) == 0:
		return t.V.Say("visit-fits")
	case len(fewer) == 0:
		return t.V.Say("visit-more", "notes", t.Notes(more))
	case len(more) == 0:
		return t.V.Say("visit-fewer", "notes", t.Notes(fewer))
	}
	return t.V.Say("visit-both", "fewer", t.Notes(fewer), "more", t.Notes(more))
}
