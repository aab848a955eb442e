package telling

import (
	"slices"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// Notes names a handful of notes, in the order of the boxes: 2 x 20s, 1 x 10s.
func (t *Teller) Notes(n books.Notes) string {
	out := ""
	for i, f := range inOrder(t, n.Faces()) {
		if i > 0 {
			out += ", "
		}
		out += t.V.Count("notes-of", n[f], "kind", t.V.Kind(f))
	}
	return out
}

// inOrder sorts kinds of note as the boxes are; others come first.
func inOrder(t *Teller, faces []cashmath.Face) []cashmath.Face {
	if t.Kit == nil {
		return faces
	}
	at := func(f cashmath.Face) int {
		return slices.IndexFunc(t.Kit.Boxes, func(b shop.Box) bool { return b.Face == f })
	}
	slices.SortStableFunc(faces, func(a, b cashmath.Face) int { return at(a) - at(b) })
	return faces
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
