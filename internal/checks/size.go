// Package checks says how much the random tests try: few cases in every run,
// more in CI, many when a person looks for trouble. Tests alone import it.
package checks

import (
	"fmt"
	"os"
	"testing"
)

// Environment names the variable that chooses the size of random tests: empty
// for few cases, "ci", or "deep". Deep takes hours; run it with -timeout 0.
const Environment = "SHOPFLOAT_CHECKS"

// Size gives how many cases a test tries, which are from one up and not fewer
// in a larger run. Any other value of the variable fails the test.
func Size(t testing.TB, small, ci, deep int) int {
	t.Helper()
	n, err := size(os.Getenv(Environment), small, ci, deep)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func size(chosen string, small, ci, deep int) (int, error) {
	if small < 1 || ci < small || deep < ci {
		return 0, fmt.Errorf("sizes %d, %d, %d: want them from one up, not falling", small, ci, deep)
	}
	switch chosen {
	case "":
		return small, nil
	case "ci":
		return ci, nil
	case "deep":
		return deep, nil
	}
	return 0, fmt.Errorf("%s=%q: want it empty, ci or deep", Environment, chosen)
}
