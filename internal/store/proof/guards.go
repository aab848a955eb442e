package proof

import (
	"fmt"
	"maps"
	"slices"

	"shopfloat/internal/store/file"
)

// schema names what the file is made of otherwise than this program makes it:
// guards, tables and indexes, and the migrations it has behind it.
func (v *verifier) schema() (faults []string, err error) {
	have, err := file.ReadSchema(v.each)
	for _, part := range []struct {
		own, have              map[string]string
		lost, differs, strange string
	}{
		{v.own.Guards, have.Guards, "the file has lost its guard %s: records could be changed",
			"the file's guard %s reads differently: records could be changed",
			"the file has a trigger %s that is not shopfloat's"},
		{v.own.Tables, have.Tables, "the file has lost its table or index %s",
			"the file's table or index %s is made differently", "the file has a table %s that is not shopfloat's"},
		{v.own.Done, have.Done, "the file does not say that it went through migration %s",
			"migration %s of the file reads differently", "the file went through a migration %s that is not known"},
	} {
		for _, name := range slices.Sorted(maps.Keys(part.own)) {
			switch body, ok := part.have[name]; {
			case !ok:
				faults = append(faults, fmt.Sprintf(part.lost, name))
			case body != part.own[name]:
				faults = append(faults, fmt.Sprintf(part.differs, name))
			}
		}
		for _, name := range slices.Sorted(maps.Keys(part.have)) {
			if _, ok := part.own[name]; !ok {
				faults = append(faults, fmt.Sprintf(part.strange, name))
			}
		}
	}
	return faults, err
}
