package cashmath

import (
	"maps"
	"slices"
)

// UsualCodes lists the currencies whose usual kinds are known.
func UsualCodes() []string { return slices.Sorted(maps.Keys(usualKinds)) }

// Whole is the value of a face in whole units, 0 where it is none.
func Whole(f Face) int64 { return f.whole() }

// Small reports whether notes are few enough to be multiplied as they are.
func Small(notes int64) bool { return small(notes) }
