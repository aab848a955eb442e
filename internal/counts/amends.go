package counts

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

// readAmends leaves out what only says that a figure puts another right.
func (r *reader) readAmends() {
	text, found := r.text, false
	for {
		cut := excuse.ReplaceAllString(text, "")
		if cut == text {
			break
		}
		text, found = cut, true
	}
	cut := instead.ReplaceAllString(excuseBehind.ReplaceAllString(text, ""), "$1")
	if cut = becomes.ReplaceAllString(cut, "$1 $2"); cut != text {
		text, found = cut, true
	}
	says := func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }
	if found && strings.ContainsFunc(text, says) {
		r.text, r.amends = oneOf.ReplaceAllString(text, "$1"), true
	}
}
