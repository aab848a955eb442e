package guides_test

import (
	"testing"

	"shopfloat/internal/guides"
)

func TestBuiltinGuidesPassTheChecks(t *testing.T) {
	if _, err := guides.Builtin(); err != nil {
		t.Fatal(err)
	}
}
