package dialogs_test

import "testing"

// BenchmarkOpening is one opening by five messages and taps, as pure steps.
func BenchmarkOpening(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		f := newFloor(b)
		b.StartTimer()
		f.Play("staff1: open\nstaff1: 40\nstaff1: 150\nstaff1: 200\nstaff1: [Confirm]")
	}
}
