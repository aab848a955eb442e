package dialogs_test

import (
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// newFloor is a floor with all rooms.
func newFloor(t testing.TB) *floor.Floor {
	t.Helper()
	return floor.New(t, dialogs.New)
}
