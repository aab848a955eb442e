package incidents_test

import (
	"strings"
	"testing"

	"shopfloat/internal/incidents"
)

// What a provider calls an incident by: letters, figures and what stands between them,
// with a figure among them and at most thirty long.
func TestReadReference(t *testing.T) {
	long := strings.Repeat("7", 30)
	for typed, want := range map[string]string{"rm 48-213": "RM 48-213", "  a  1 ": "A 1", "#12/B.3": "#12/B.3",
		long: long, long + "7": "", "none": "", "": "", "12 & 3": "", "é12": ""} {
		got, ok := incidents.ReadReference(typed)
		if ok != (want != "") || ok && got != want {
			t.Errorf("%q: %q, %t", typed, got, ok)
		}
	}
}
