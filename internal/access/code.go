// Package access says who may do what, and what the codes are that let people
// in. It is pure: what is drawn by lot comes in as a reader.
package access

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
	"strings"
)

// codeSize is 128 bits.
const codeSize = 16

// paramMax is the most letters a link's start parameter may have (Bot API, deep
// linking: A-Z, a-z, 0-9, _ and -).
const paramMax = 64

// NewCode draws a code of 128 random bits, written so that a link can carry it.
func NewCode(random io.Reader) (string, error) {
	var b [codeSize]byte
	if _, err := io.ReadFull(random, b[:]); err != nil {
		return "", fmt.Errorf("draw a code: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(b[:]), nil
}

// CodeFor makes the code that belongs to a place kept for one, by a key that is
// written nowhere: the same as long as the program runs, and not to be found from
// the place.
func CodeFor(key, place []byte) string {
	mac := hmac.New(sha256.New, key)
	mac.Write(place)
	return base64.RawURLEncoding.EncodeToString(mac.Sum(nil)[:codeSize])
}

// HashCode is what is kept of a code. The code is random, so it needs no salt.
func HashCode(code string) []byte {
	sum := sha256.Sum256([]byte(code))
	return sum[:]
}

// ParseStart reads the message a chat program sends when a link is opened:
// "/start CODE". It is false for everything else, also for a bare "/start".
func ParseStart(text string) (code string, ok bool) {
	rest, found := strings.CutPrefix(strings.TrimSpace(text), "/start")
	code = strings.TrimSpace(rest)
	if !found || rest == code || code == "" || len(code) > paramMax {
		return "", false
	}
	strange := func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == '-')
	}
	if strings.ContainsFunc(code, strange) {
		return "", false
	}
	return code, true
}
