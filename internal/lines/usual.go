package lines

import (
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// enoughOpenings is how many openings tell what is usual better than the settings do.
const enoughOpenings = 3

// Loads are note boxes with what the shop usually loads.
func Loads(boxes []shop.Box, m *books.Machine) []Line {
	list := Of(boxes)
	for i := range list {
		list[i].Usual = boxes[i].Usual
		if n, openings := m.Usual(list[i].Box, list[i].Face); openings >= enoughOpenings {
			list[i].Usual = n
		}
	}
	return list
}

// UsualOf is what is usually loaded of a box, or of a kind of note over all boxes; 0 where
// that is not known.
func UsualOf(loads []Line, l Line) (n int64) {
	for _, u := range loads {
		if u.Face == l.Face && (l.Box == 0 || l.Box == u.Box) {
			n += u.Usual
		}
	}
	return n
}
