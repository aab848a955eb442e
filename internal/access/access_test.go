package access_test

import (
	"bytes"
	"crypto/rand"
	"strings"
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

func TestNewCode(t *testing.T) {
	seen := map[string]bool{}
	for range 1000 {
		code, err := access.NewCode(rand.Reader)
		if err != nil || len(code) != 22 || seen[code] { // 16 bytes in base64 without padding
			t.Fatalf("code %q, %v", code, err)
		}
		seen[code] = true
		if back, ok := access.ParseStart("/start " + code); !ok || back != code {
			t.Fatalf("%q comes back as %q", code, back)
		}
	}
	if _, err := access.NewCode(strings.NewReader("too short")); err == nil {
		t.Error("a code was made of too few random bytes")
	}
	if bytes.Equal(access.HashCode("a"), access.HashCode("b")) || len(access.HashCode("a")) != 32 {
		t.Error("hashes")
	}
}

// The bounds are those of the Bot API, deep linking: 1 to 64 of A-Z, a-z, 0-9, _ and -.
func TestParseStart(t *testing.T) {
	for text, want := range map[string]string{
		"/start abc_-09AZ": "abc_-09AZ", " /start  x ": "x", "/start " + strings.Repeat("a",
			64): strings.Repeat("a", 64),
		"/start": "", "/start ": "", "/startabc": "", "start abc": "", "/start a b": "", "/start ü": "",
		"/start a=b":                        "",
		"/start " + strings.Repeat("a", 65): "", "": "",
	} {
		if got, ok := access.ParseStart(text); got != want || ok != (want != "") {
			t.Errorf("%q: %q %v, want %q", text, got, ok, want)
		}
	}
}

func FuzzParseStart(f *testing.F) {
	f.Add("/start abc")
	f.Add("/start \x00")
	f.Fuzz(func(t *testing.T, text string) {
		code, ok := access.ParseStart(text)
		if ok != (code != "") || len(code) > 64 || strings.ContainsAny(code, " \n\t/=?") {
			t.Errorf("%q gave %q %v", text, code, ok)
		}
	})
}

func TestPIN(t *testing.T) {
	for text, want := range map[string]bool{
		"4711": true, " 12345678 ": true, "123": false, "123456789": false, "1111": false, "12a4": false, "": false,
		"１２３４": false,
	} {
		if _, ok := access.ParsePIN(text); ok != want {
			t.Errorf("%q: %v", text, ok)
		}
	}
	salt := []byte("0123456789abcdef")
	kept, err := access.HashPIN("4711", salt)
	if err != nil || bytes.Contains(kept, []byte("4711")) {
		t.Fatal(err)
	}
	if !access.SamePIN("4711", salt, kept) || access.SamePIN("4712", salt, kept) ||
		access.SamePIN("4711", []byte("another salt"), kept) || access.SamePIN("4711", salt, nil) {
		t.Error("codes are told apart wrongly")
	}
}

// The circles, written out. A role that is none belongs to no circle, and the
// zero circle has nobody.
func TestCircles(t *testing.T) {
	const everyone = "owner manager staff bookkeeper"
	for circle, want := range map[access.Circle]string{
		0: "", access.Everyone: everyone, access.Counting: "owner manager staff",
		access.Keeping: "owner manager bookkeeper", access.Managing: "owner manager", access.Owning: "owner",
	} {
		var got []string
		for _, role := range []shop.Role{shop.Owner, shop.Manager, shop.Staff, shop.Bookkeeper, "guest", ""} {
			if circle.Has(role) {
				got = append(got, string(role))
			}
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("circle %d has %q, want %q", circle, s, want)
		}
	}
}
