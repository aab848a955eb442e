package learn_test

import (
	"bytes"
	"strings"
	"testing"

	"shopfloat/internal/learn"
)

// What is packed comes back, and what is cut or changed does not.
func TestPack(t *testing.T) {
	plain := []byte(strings.Repeat("forty fifties ", 500))
	packed, err := learn.Pack(plain)
	if err != nil || len(packed) > len(plain)/2 {
		t.Fatalf("%d bytes of %d, %v", len(packed), len(plain), err)
	}
	if got, err := learn.Unpack(packed); err != nil || !bytes.Equal(got, plain) {
		t.Errorf("%d bytes came back, %v", len(got), err)
	}
	packed[len(packed)/2] ^= 4
	for name, file := range map[string][]byte{"changed": packed, "cut": packed[:9], "none": nil} {
		if _, err := learn.Unpack(file); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}
