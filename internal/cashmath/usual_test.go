package cashmath_test

import (
	"slices"
	"testing"

	"shopfloat/internal/cashmath"
)

// The usual kinds are notes of their currency where these are known, falling in value.
func TestUsualKinds(t *testing.T) {
	for _, code := range cashmath.UsualCodes() {
		if _, err := cashmath.LookupCurrency(code); err != nil {
			t.Errorf("%s: %v", code, err)
		}
		kinds, known := cashmath.UsualKinds(code), cashmath.Denominations(code)
		if len(kinds) < 2 || len(kinds) > 3 {
			t.Errorf("%s: %v", code, kinds)
		}
		for i, f := range kinds {
			if _, err := cashmath.ParseFace(string(f)); err != nil || len(known) > 0 && !slices.Contains(known, f) {
				t.Errorf("%s: %s is no note of %v", code, f, known)
			}
			if i > 0 && kinds[i-1].Cmp(f) <= 0 {
				t.Errorf("%s: %v is not falling", code, kinds)
			}
		}
	}
}
