package seal

import (
	"encoding/base32"
	"strings"
)

// wordAlphabet leaves out letters and figures that are mistaken for others.
const wordAlphabet = "abcdefghjkmnpqrstuvwxyz123456789"

// wordBytes of a hash make a check word: 40 bits, so that nobody finds another
// ledger with the same word by trying.
const wordBytes = 5

// Joint is the hash of two heads together.
func Joint(a, b []byte) []byte {
	c := New()
	c.Bytes(a)
	c.Bytes(b)
	return c.Sum()
}

// CheckWord is a short word for the head of a ledger. Kept elsewhere, it shows
// later whether the ledger up to there is still the same.
func CheckWord(head []byte) string {
	if len(head) < wordBytes {
		return ""
	}
	word := base32.NewEncoding(wordAlphabet).WithPadding(base32.NoPadding).EncodeToString(head[:wordBytes])
	return word[:4] + "-" + word[4:]
}

// SameWord reports whether a word, as somebody typed it, is that of a head.
func SameWord(word string, head []byte) bool {
	plain := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r == '-' || r == ' ' {
				return -1
			}
			return r
		}, strings.ToLower(s))
	}
	return plain(word) != "" && plain(word) == plain(CheckWord(head))
}
