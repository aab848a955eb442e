package access

import (
	"crypto/pbkdf2"
	"crypto/sha256"
	"crypto/subtle"
	"fmt"
	"strings"
)

// Bounds of a personal code, in digits.
const (
	pinMin = 4
	pinMax = 8
)

// pinRounds slows down whoever got hold of the file. So short a code cannot be
// kept from a patient one; it only tells people at one counter apart.
const pinRounds = 50_000

// ParsePIN reads a personal code: 4 to 8 digits, not all the same.
func ParsePIN(text string) (pin string, ok bool) {
	pin = strings.TrimSpace(text)
	if len(pin) < pinMin || len(pin) > pinMax || strings.Trim(pin, "0123456789") != "" {
		return "", false
	}
	return pin, strings.Trim(pin, pin[:1]) != ""
}

// HashPIN is what is kept of a personal code.
func HashPIN(pin string, salt []byte) ([]byte, error) {
	hash, err := pbkdf2.Key(sha256.New, pin, salt, pinRounds, sha256.Size)
	if err != nil {
		return nil, fmt.Errorf("personal code: %w", err)
	}
	return hash, nil
}

// SamePIN compares a code with what was kept of one, in constant time. Nothing
// kept is the same as no code.
func SamePIN(pin string, salt, kept []byte) bool {
	hash, err := HashPIN(pin, salt)
	return err == nil && subtle.ConstantTimeCompare(hash, kept) == 1
}
