package access

import (
	"maps"
	"slices"
)

// Ruled lists everything there is a rule for.
func Ruled() []string { return slices.Sorted(maps.Keys(rules)) }
