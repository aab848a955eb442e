package texts

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Either chooses between two texts, or names of texts.
func Either(yes bool, one, other string) string {
	if yes {
		return one
	}
	return other
}

// Upper begins a sentence with a capital letter.
func Upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// LabelMax is the most letters on a button.
const LabelMax = 40

// Short cuts a text after so many letters.
func Short(s string, limit int) string {
	if r := []rune(s); len(r) > limit {
		return string(r[:limit-1]) + "…"
	}
	return s
}

func Fold(s string) string { return strings.ToLower(strings.TrimSpace(s)) }
