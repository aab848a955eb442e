package incidents

import "strings"

// referenceMax is the longest a reference may be.
const referenceMax = 30

// ReadReference reads what a provider calls an incident or a visit by: letters,
// figures and what stands between them, at least one figure among them.
func ReadReference(s string) (ref string, ok bool) {
	ref = strings.ToUpper(strings.Join(strings.Fields(s), " "))
	return ref, len(ref) <= referenceMax && strings.ContainsAny(ref, "0123456789") &&
		strings.Trim(ref, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-/. #") == ""
}
