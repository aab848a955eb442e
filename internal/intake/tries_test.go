package intake_test

import (
	"testing"
	"time"

	"shopfloat/internal/intake"
)

// The wait before the next try doubles up to its bound, for each thing by itself.
func TestTries(t *testing.T) {
	later, now := intake.Tries[int]{}, time.Date(2026, 11, 25, 7, 0, 0, 0, time.UTC)
	var waits []time.Duration
	for range 11 {
		if !later.Ready(1, now) {
			t.Fatalf("not ready after %v", waits)
		}
		wait := later.Failed(1, now)
		if later.Ready(1, now.Add(wait-1)) || !later.Ready(2, now) {
			t.Errorf("after %v: too early, or the other one is held up", wait)
		}
		waits, now = append(waits, wait), now.Add(wait)
	}
	if waits[0] != intake.Every || waits[1] != 2*intake.Every || waits[10] != intake.Pause {
		t.Errorf("waits %v", waits)
	}
}
