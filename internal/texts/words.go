package texts

import (
	"regexp"
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

// Short cuts a text after so many letters, between words where there are several.
func Short(s string, limit int) string {
	r := []rune(s)
	if len(r) <= limit {
		return s
	}
	cut := string(r[:limit-1])
	if at := strings.LastIndexFunc(cut, unicode.IsSpace); at > len(cut)/2 && !unicode.IsSpace(r[limit-1]) {
		cut = cut[:at]
	}
	signs := func(r rune) bool { return unicode.IsSpace(r) || unicode.IsPunct(r) }
	return strings.TrimRightFunc(cut, signs) + "…"
}

// Fold gives small letters without space around them.
func Fold(s string) string { return strings.ToLower(strings.TrimSpace(s)) }

// grouped is the sign between the thousands of a number and the rest of it.
var grouped = regexp.MustCompile(`(\d)[,.’'](\d{3})\b`)

// Plain gives the words of a text in small letters, without signs: what is typed for a label.
// A number stands there as it is typed mostly, 2000 for 2,000.
func Plain(s string) string {
	if s = strings.ToLower(s); strings.ContainsAny(s, ",.’'") {
		s = grouped.ReplaceAllString(s, "$1$2")
	}
	letters := strings.FieldsFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	return strings.Join(letters, " ")
}

// Begins gives the length of the longest of some words that a text begins with, and what
// follows; 0 where there is none. A word that goes on is another word.
func Begins(low string, words []string) (best int, rest string) {
	for _, w := range words {
		after, ok := strings.CutPrefix(low, w)
		if ok && len(w) > best && (after == "" || strings.ContainsRune(" .!?:,\n\t", rune(after[0]))) {
			best, rest = len(w), strings.TrimSpace(strings.TrimLeft(after, ".!?:,"))
		}
	}
	return best, rest
}

// Unpolite drops what people say before the word that matters: "i want to close".
func (v *Voice) Unpolite(s string) string {
	for again := true; again; {
		again = false
		for _, w := range v.List("words.polite") {
			if after, ok := strings.CutPrefix(s, w+" "); ok {
				s, again = strings.TrimSpace(after), true
			}
		}
	}
	return s
}
