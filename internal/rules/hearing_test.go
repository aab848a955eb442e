package rules

import (
	"strings"
	"testing"
)

// There is one way to what a text means: the chat and the command line ask
// Understand, and nobody weighs readings by himself.
func TestOneWayToHear(t *testing.T) {
	asked := 0
	for _, f := range sources(t) {
		if f.dir == "internal/hearing" || f.dir == "internal/teach" {
			continue
		}
		asked += strings.Count(f.source, ".Understand(")
		for _, other := range []string{"hearing.Decide(", ".Hear(", "hearing.Reading{"} {
			if strings.Contains(f.source, other) {
				t.Errorf("%s has %s", f.path, other)
			}
		}
	}
	if asked == 0 {
		t.Error("nobody asks what a text means")
	}
}
