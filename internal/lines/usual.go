package lines

import (
	"slices"
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
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

// Sealed are the sealed bundles that are usually put in by a top-up, in notes by line: those of
// the newest one in whole bundles, else the whole bundles of a usual load. Nil: there are none.
func Sealed(list, loads []Line, bundle func(cashmath.Face) int64, recent []books.Brief) []int64 {
	for _, b := range slices.Backward(recent) {
		if v := wholeBundles(list, bundle, b); v != nil {
			return v
		}
	}
	v, sum := make([]int64, len(list)), int64(0)
	for i, l := range list {
		if n := bundle(l.Face); n > 0 {
			v[i] = UsualOf(loads, l) / n * n
		}
		sum += v[i]
	}
	if sum == 0 {
		return nil
	}
	return v
}

// wholeBundles gives a top-up that holds as it was recorded, if it was nothing but whole bundles.
func wholeBundles(list []Line, bundle func(cashmath.Face) int64, b books.Brief) []int64 {
	if b.Kind != books.TopUp || b.Void || b.Corrected != 0 || len(b.Figures) == 0 {
		return nil
	}
	v := make([]int64, len(list))
	for _, f := range b.Figures {
		i := slices.IndexFunc(list, func(l Line) bool { return l.Box == f.Box && l.Face == f.Face })
		if n := bundle(f.Face); i < 0 || n <= 0 || f.Notes%n != 0 {
			return nil
		}
		v[i] = f.Notes
	}
	return v
}

// Choice names counts in a button, so that it is about these alone: sealed-0-100-200.
func Choice(what string, v []int64) string {
	for _, n := range v {
		what += "-" + strconv.FormatInt(n, 10)
	}
	return what
}
