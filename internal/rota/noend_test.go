package rota_test

import (
	"testing"

	"shopfloat/internal/rota"
)

// Three numbers are notes of three boxes; anything that may be hours or days is not.
func TestCounts(t *testing.T) {
	for text, want := range map[string]bool{
		"40 150 200": true, "open 40 150 200": true, " close  12 60 80 ": true,
		"": false, "40 150": false, "open 9 18": false, "9 13 15 19": false, "open 9 13 15 19": false,
		"24 25 december": false, "open 24 25 26.12.": false, "open late 9 13 15": false, "open sunday 9 13": false,
		"7-13 15 19": false, "2 40 150 200": false,
	} {
		if got := rota.Counts(text); got != want {
			t.Errorf("%q: %t", text, got)
		}
	}
}
