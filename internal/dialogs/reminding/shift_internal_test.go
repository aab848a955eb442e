package reminding

import (
	"testing"

	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/rota"
)

// Who is away says on which days; a day that there is not is asked for again.
func TestUnclearDayIsNotToday(t *testing.T) {
	c := floor.Talk(t, "2026-11-26 09:00")
	for typed, want := range map[string]bool{
		"": true, "and cannot stand": true, "friday": true, "until friday, fever": true,
		"31 feb": false, "friday 24 december": false, "3-5": false,
	} {
		if _, ok := rota.Read(c.Teller, "ill", typed, ""); ok != want {
			t.Errorf("ill %s: %v", typed, ok)
		}
		if _, ok := rota.Read(c.Teller, "nobody", "nobody comes "+typed, ""); ok != want {
			t.Errorf("nobody comes %s: %v", typed, ok)
		}
	}
}
