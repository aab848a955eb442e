package lines

import (
	"regexp"
	"strings"
)

// What lies in the box for refused notes, as people say it behind a count of the note boxes: "and
// nothing in the reject", ", 2 twenties in the refused box", "refused 0", ", the reject box is empty".
// Common practice, no source.
var (
	refusedIn = regexp.MustCompile(`(?i)^(.+)(?:\s*[,;.]\s*|\s+(?:and|with)\s+)(?:(?:and|with|there)\s+)?` +
		`(?:(?:is|are)\s+)?([^,;.]+?)\s+(?:(?:is|are|was|were|lies?|left)\s+)?(?:in|inside)\s+` + refusedBox +
		`[\s.!]*$`)
	refusedIs = regexp.MustCompile(`(?i)^(.+?)[\s,;.]+(?:and\s+|with\s+)?` + refusedBox +
		`(?:\s+(?:is|was|are|were|has|had)\b)?\s*[:=]?\s+([^:=]+?)[\s.!]*$`)
	nothingIn = regexp.MustCompile(`(?i)^(?:(?:is|are|was)\s+)?(?:nothing|none|nil|zero|no|0|empty|no notes?)` +
		`(?:\s+(?:there|notes?))?$`)
)

const refusedBox = `(?:the\s+)?(?:rejects?|rejected|refused)(?:\s+(?:notes?|box|tray|bin|ones))*`

// RefusedBox parts what is said of the box for refused notes from the count of the note boxes before
// it. said: something is; notes is empty where that is nothing.
func RefusedBox(text string) (rest, notes string, said bool) {
	for _, way := range []*regexp.Regexp{refusedIn, refusedIs} {
		if m := way.FindStringSubmatch(text); m != nil && !strings.EqualFold(m[1], "the") {
			if rest, notes = m[1], m[2]; nothingIn.MatchString(notes) {
				notes = ""
			}
			return rest, notes, true
		}
	}
	return text, "", false
}
