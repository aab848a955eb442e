package access

import (
	"regexp"
	"strings"
)

// Words that announce a combination or a personal code, and what one looks like.
// "code" within a sentence says nothing, since machines print codes too; a
// message that is nothing but "code 482913" or "safe 482913" is a secret.
var (
	announces = pattern(`(?i)\b(?:pin|combi|combo|combination|passcode|pass code|password|`,
		`(?:safe|alarm|door|lock|vault|key|entry|security)(?:'s)?\s+(?:code|number|combination|is|opens)|`,
		`code (?:of|for) the)\b`)
	figures = regexp.MustCompile(`\d{3,}|\d{1,2}(?:[ .,/-]+(?:[lr]\s*)?\d{1,2}){1,}`)
	dial    = regexp.MustCompile(
		`(?i)(?:^|[^\d-])\d{1,2}\s*-\s*\d{1,2}\s*-\s*\d{1,2}(?:\s*-\s*\d{1,2})*(?:$|[^\d-])`,
	)
	turns = regexp.MustCompile(`(?i)\b[lr]\s?\d{1,2}\b.{0,4}\b[lr]\s?\d{1,2}\b`)
	alone = pattern(`(?i)^\W*(?:(?:the|my|our) )?(?:code|safe)(?: is)?[\s:=]*`,
		`(?:\d{5,8}|\d{2}(?:[ .,/-]+\d{2}){2,3})\W*$`)
	moment = regexp.MustCompile(`\d{1,2}:\d{2}`)
)

// pattern compiles an expression that is written over several lines.
func pattern(lines ...string) *regexp.Regexp { return regexp.MustCompile(strings.Join(lines, "")) }

// reach is how many letters may stand between the word and the figures.
const reach = 40

// Secret reports whether a message seems to hold the combination of a safe or
// somebody's code. It errs on the side of caution for words that say so, and
// lets counts, money, dates with a time and machine codes pass.
func Secret(text string) bool {
	for _, at := range announces.FindAllStringIndex(text, -1) {
		before, after := text[max(0, at[0]-reach):at[0]], text[at[1]:min(len(text), at[1]+reach)]
		if figures.MatchString(after) || figures.MatchString(before) {
			return true
		}
	}
	return alone.MatchString(text) || turns.MatchString(text) ||
		dial.MatchString(text) && !moment.MatchString(text) && !strings.Contains(strings.ToLower(text), "earlier")
}
