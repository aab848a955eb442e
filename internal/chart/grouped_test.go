package chart

import "testing"

func TestGrouped(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 2.5: "2.5", 999: "999", 1000: "1,000", 12500.5: "12,500.5",
		320000: "320,000", 1234567: "1,234,567"} {
		if got := grouped(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}
