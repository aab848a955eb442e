package lines

import (
	"strings"

	"shopfloat/internal/counts"
)

// BoxNamed gives the line of the one box that a text names, by its name, its place or its kind of note: in
// full, or by one of its words; -1 for none, and for several.
func BoxNamed(text string, req counts.Request) int {
	at := keyOf(text, req)
	if at >= 0 || hasFigure(text) { // a figure would be dropped
		return at
	}
	for word := range strings.FieldsSeq(text) {
		i := keyOf(word, req)
		if i >= 0 && at >= 0 && i != at {
			return -1
		}
		at = max(at, i)
	}
	return at
}

// keyOf reads a text as the key of one note.
func keyOf(text string, req counts.Request) int {
	res := counts.Parse(text+": 1", req)
	if len(res.Items) != 1 || res.Problem != nil || res.Bare || res.Items[0].Notes != 1 {
		return -1
	}
	return res.Items[0].Line
}
