package proof

import (
	"fmt"
	"maps"
	"slices"

	"shopfloat/internal/store/file"
)

// unguarded names the guards that the file has lost or that read differently,
// and triggers that are not the program's own.
func (v *verifier) unguarded() (faults []string, err error) {
	have, err := file.Triggers(v.each)
	for _, name := range slices.Sorted(maps.Keys(v.guards)) {
		switch body, ok := have[name]; {
		case !ok:
			faults = append(faults, fmt.Sprintf("the file has lost its guard %s: records could be changed", name))
		case body != v.guards[name]:
			faults = append(faults,
				fmt.Sprintf("the file's guard %s reads differently: records could be changed", name))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(have)) {
		if _, ok := v.guards[name]; !ok {
			faults = append(faults, fmt.Sprintf("the file has a trigger %s that is not shopfloat's", name))
		}
	}
	return faults, err
}
