// Package amends hears that a figure puts right what was said before: "sorry, top is 140".
package amends

import (
	"regexp"
	"strings"
	"unicode"
)

// What people say before and behind a figure that puts another right: "sorry, top is
// 140", "i mean 160", "50s is 13 not 12", "change twenties to 62".
var (
	excuse = regexp.MustCompile(`(?i)^[^\pL\pN]*(?:(?:no|nope|ah|oh|ok|hm|um)[\s,.!]+)*` +
		`(?:wait|hang on|hold on|sorry|oops|actually|i\s+mean|i\s+meant|i\s+said|correction|` +
		`my\s+mistake|my\s+bad|rather|scratch\s+that|make\s+(?:it|that)|` +
		`i\s+(?:made\s+a\s+mistake|was\s+wrong|mis-?counted)|(?:please\s+)?change|` +
		`(?:it\s+)?should\s+be|it\s+was)\b[\s,.!:;-]*`)
	excuseBehind = regexp.MustCompile(`(?i)[\s,.!]+(?:sorry|oops|my\s+mistake|my\s+bad|i\s+mean|i\s+meant|` +
		`actually)[^\pL\pN]*$`)
	instead = regexp.MustCompile(`(?i)(\d(?:\s*\pL+)?)[\s,]*\b(?:and\s+)?(?:not|instead\s+of|rather\s+than)\s+` +
		`\d[\d.,]*`)
	becomes = regexp.MustCompile(`(?i)(\pL)\s+(?:to|should\s+(?:be|say|read))\s+(\d)`)
	oneOf   = regexp.MustCompile(`(?i)\bone\s+of\s+(?:the\s+|my\s+|our\s+)?(\d|[a-z]+s\b)`)
)

// Cut leaves out what only says that a figure puts another right. It reports whether anything did.
func Cut(text string) (rest string, amends bool) {
	rest = text
	for {
		cut := excuse.ReplaceAllString(rest, "")
		if cut == rest {
			break
		}
		rest, amends = cut, true
	}
	cut := instead.ReplaceAllString(excuseBehind.ReplaceAllString(rest, ""), "$1")
	if cut = becomes.ReplaceAllString(cut, "$1 $2"); cut != rest {
		rest, amends = cut, true
	}
	says := func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }
	if !amends || !strings.ContainsFunc(rest, says) {
		return text, false
	}
	return oneOf.ReplaceAllString(rest, "$1"), true
}
