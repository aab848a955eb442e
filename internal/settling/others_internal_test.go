package settling

import (
	"strings"
	"testing"
)

// Numbers of lines are told in spans, and cut where there are too many.
func TestSpans(t *testing.T) {
	for want, list := range map[string][]int{"": nil, "3": {3}, "1-3, 7": {1, 2, 3, 7},
		"1, 3, 5-6": {1, 3, 5, 6}} {
		var s spans
		for _, no := range list {
			s.add(no)
		}
		if got := s.String(); got != want {
			t.Errorf("%v: %s, want %s", list, got, want)
		}
	}
	var s spans
	for no := range 1000 {
		s.add(2 * (no + 1))
	}
	got := s.String()
	if len(got) > numbersMax+8 || !strings.HasPrefix(got, "2, 4, 6") || !strings.HasSuffix(got, "…") {
		t.Errorf("many: %s", got)
	}
}
