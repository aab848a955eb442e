package dialogs_test

import (
	"sync"
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// newFloor is a floor with all rooms, which are the same for all tests: hundreds of floors are opened.
func newFloor(t testing.TB) *floor.Floor {
	t.Helper()
	readRooms.Do(func() { allRooms = dialogs.New(floor.Texts(t)).Guide(floor.Guiding(t)) })
	return floor.With(t, allRooms)
}

var (
	readRooms sync.Once
	allRooms  *engine.Engine
)
