package lines_test

import (
	"testing"

	"shopfloat/internal/counts"
	"shopfloat/internal/lines"
)

// A box is named by its place or its kind of note, alone or within a sentence that names no other.
func TestBoxNamed(t *testing.T) {
	req := counts.Request{Currency: "EUR", Lines: []counts.Line{{Face: "20", Position: 1, Name: "top"},
		{Face: "50", Position: 2, Name: "bottom"}}}
	for said, want := range map[string]int{
		"top": 0, "20s": 0, "bottom": 1, "box 2": 1, "fifties": 1, "the top box": 0,
		"i changed the top box with a full one 300 notes": -1, "i swapped the bottom one": 1, "top 300": -1,
		"swap the top and the bottom": -1, "the box": -1, "": -1, "30s": -1, "300": -1,
	} {
		if got := lines.BoxNamed(said, req); got != want {
			t.Errorf("%q: %d, want %d", said, got, want)
		}
	}
}
