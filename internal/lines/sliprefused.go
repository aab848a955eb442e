package lines

import (
	"regexp"
	"strconv"
	"strings"

	"shopfloat/internal/books"
)

// What a slip says of refused notes, as people type it behind what was paid out: "refused 3",
// ", 3 refused". A number before the word needs something between it and the figures, or it may
// be one of them.
var (
	refusedBehind = regexp.MustCompile(`(?i)[\s,;.]+(?:and\s+)?(?:refused|rejected|rejects?)\s*:?\s*` +
		`(\d{1,4})(?:\s*notes?)?[\s.!]*$`)
	refusedBefore = regexp.MustCompile(`(?i)(?:\s*[,;]\s*|\s+and\s+)(\d{1,4})\s*(?:notes?\s*)?` +
		`(?:were\s+)?(?:refused|rejected)[\s.!]*$`)
)

// SlipRefused parts what a slip says was refused from what it says was paid out; none for a text
// that says nothing of it.
func SlipRefused(text string) (rest string, notes int64) {
	for _, said := range []*regexp.Regexp{refusedBehind, refusedBefore} {
		if at := said.FindStringSubmatchIndex(text); at != nil {
			notes, _ = strconv.ParseInt(text[at[2]:at[3]], 10, 64) // four digits
			return text[:at[0]], notes
		}
	}
	return text, 0
}

// What a slip says was cancelled, behind what was paid out: "cancelled 1 twenty", ", 1 twenty was cancelled".
var (
	cancelledBehind = regexp.MustCompile(`(?i)[\s,;.]+(?:and\s+)?(?:cancell?ed|reversed)\b\s*:?\s*(\S.*)$`)
	cancelledBefore = regexp.MustCompile(`(?i)(?:\s*[,;]\s*|\s+and\s+)(\d[^,;]*?|none|nothing)\s+` +
		`(?:were\s+|was\s+)?(?:cancell?ed|reversed)[\s.!]*$`)
)

// SlipCancelled parts what a slip says was cancelled, which may be none, from what it says was paid out;
// empty for a text without the one or the other.
func SlipCancelled(text string) (rest, cancelled string) {
	for _, said := range []*regexp.Regexp{cancelledBehind, cancelledBefore} {
		at := said.FindStringSubmatchIndex(text)
		if at == nil || !hasFigure(text[:at[0]]) {
			continue
		}
		if back := strings.TrimRight(text[at[2]:at[3]], ".! "); hasFigure(back) || noneSaid[strings.ToLower(back)] {
			return text[:at[0]], back
		}
	}
	return text, ""
}

var noneSaid = map[string]bool{"none": true, "nothing": true}

func hasFigure(s string) bool { return strings.ContainsAny(s, "0123456789") }

// Together is how many notes of all kinds there are.
func Together(notes books.Notes) (n int64) {
	for _, of := range notes {
		n += of
	}
	return n
}

// cancelledFirst begins a text about what the slip says was cancelled: "cancelled 1 twenty".
var cancelledFirst = regexp.MustCompile(
	`(?i)^[^\pL\pN]*(?:the\s+slip\s+says\s+)?(?:cancell?ed|reversed|came\s+back)\b\s*:?\s*`)

// Cancelled cuts the word off from which figures are known to be those of cancelled payouts.
func Cancelled(text string) (rest string, said bool) {
	rest = cancelledFirst.ReplaceAllString(text, "")
	return rest, rest != text && hasFigure(rest)
}

// paidWords stand before or behind what the slip says was paid out: "paid out 28 90".
var paidWords = regexp.MustCompile(`(?i)^[^\pL\pN]*(?:(?:it|the\s+machine)\s+)?` +
	`(?:paid(?:\s+out)?|dispensed|payouts?|gave(?:\s+out)?)\b\s*(?:is|was|are|were)?\s*:?\s*|` +
	`\s(?:were\s+|was\s+)?(?:paid(?:\s+out)?|dispensed)[^\pL\pN]*$`)

// PaidOut cuts the words off from which figures are known to be those of what was paid out.
func PaidOut(text string) (rest string, said bool) {
	rest = paidWords.ReplaceAllString(text, "")
	said = rest != text && hasFigure(rest) && !strings.Contains(rest, "cancel")
	if !said {
		return text, false
	}
	return rest, true
}
