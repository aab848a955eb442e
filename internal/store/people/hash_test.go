package people

import (
	"crypto/sha256"
	"encoding/binary"
	"slices"
	"testing"
)

// The hash is over these bytes and no others, so that settings of today still
// verify with any later program.
func TestSettingsHashIsFixed(t *testing.T) {
	b := []byte{1}
	for _, n := range []uint64{7, 2, 99, 2} {
		b = binary.BigEndian.AppendUint64(b, n)
	}
	b = append(b, "{}"...)
	b = append(binary.BigEndian.AppendUint64(b, 1), "p"...)
	want := sha256.Sum256(b)
	if got := SettingsHash(7, 2, 99, []byte("{}"), []byte("p")); !slices.Equal(got, want[:]) {
		t.Errorf("hash of settings %x, want %x", got, want)
	}
}
