package when

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// hourWords are the hours of a clock's face as they are said, from one.
var hourWords = strings.Fields("one two three four five six seven eight nine ten eleven twelve")

// An hour in words with its minutes, and one with the part of the day: five thirty, 6 in the evening.
var (
	hourSaid = regexp.MustCompile(`(?i)\b(` + strings.Join(hourWords, "|") +
		`)[ -](fifteen|thirty|forty[ -]five)\b`)
	partSaid = regexp.MustCompile(`(?i)\b(\d{1,2})([:.]\d\d)? ?(?:o['’]?clock )?` +
		`(?:in (?:the )?(morning|afternoon|evening|night)|at (night))\b`)
)

// spokenHours writes hours that are said in words as they are written: nine to five thirty is nine
// to 5:30, 6 in the evening is 6pm.
func spokenHours(text string) string {
	text = hourSaid.ReplaceAllStringFunc(text, func(said string) string {
		m := hourSaid.FindStringSubmatch(strings.ToLower(said))
		minutes := map[string]string{"fifteen": ":15", "thirty": ":30"}[m[2]]
		return strconv.Itoa(slices.Index(hourWords, m[1])+1) + cmp.Or(minutes, ":45")
	})
	return partSaid.ReplaceAllStringFunc(text, func(said string) string {
		m := partSaid.FindStringSubmatch(strings.ToLower(said))
		hour, _ := strconv.Atoi(m[1]) // two digits
		part := m[3] + m[4]
		if hour < 1 || hour > 12 { // 18 in the evening says it already
			return m[1] + m[2]
		}
		if part == "morning" || part == "night" && (hour < 6 || hour == 12) {
			return m[1] + m[2] + "am"
		}
		return m[1] + m[2] + "pm"
	})
}
