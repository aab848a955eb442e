package guides

import "slices"

// questionGuides are the guides that answer a question rather than see to a fault:
// leaving one half read leaves nothing to be done.
var questionGuides = []string{
	"customer-claim", "low-cash", "top-up", "count-mismatch", "credit-missing", "suspect-note", "damaged-note",
	"overnight", "contact"}

// Question reports whether a guide answers a question rather than sees to a fault.
func Question(id string) bool { return slices.Contains(questionGuides, id) }
