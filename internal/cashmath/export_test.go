package cashmath

import (
	"maps"
	"slices"
)

// UsualCodes lists the currencies whose usual kinds are known.
func UsualCodes() []string { return slices.Sorted(maps.Keys(usualKinds)) }
