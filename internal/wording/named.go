package wording

import "strings"

// Marks of what a text names beside what it wants.
const (
	markPastDay = "#past-day"
	markDay     = "#day"
	markNextDay = "#next-day"
	markMonth   = "#month"
	markNumber  = "#number"
	markNumbers = "#numbers"
	markFace    = "#face"
	markTime    = "#time"
)

var dayMarks = wordMarks(map[string]string{
	markPastDay: "yesterday last",
	markNextDay: "tomorrow next tonight",
	markDay: `today monday tuesday wednesday thursday friday saturday sunday mon tue tues wed thu thur thurs
	fri sat
		sun mondays tuesdays wednesdays thursdays fridays saturdays sundays weekend 1st 2nd 3rd 4th 5th 6th 7th
		8th 9th
		10th 11th 12th 13th 14th 15th 16th 17th 18th 19th 20th 21st 22nd 23rd 24th 25th 26th 27th 28th 29th 30th
		31st`,
	markMonth: `january february march april june july august september october november december jan feb mar apr
		jun jul aug sept sep oct nov dec month months monthly`,
	markFace: `fifties twenties tens fives hundreds 50s 20s 10s 5s 100s fifty twenty tenner tenners fiver
	fivers ten
		twentys fiftys note notes`,
	markTime: "am pm oclock noon midnight morning evening afternoon hour hours",
})

func wordMarks(lists map[string]string) map[string]string {
	out := map[string]string{}
	for mark, list := range lists {
		for w := range strings.FieldsSeq(list) {
			out[w] = mark
		}
	}
	return out
}

// Dated reports whether a word names a day, a month, a time or a face.
func Dated(w string) bool { return dayMarks[w] != "" }

// Named lists marks of what a row of words names.
func Named(words []string) []string {
	seen, numbers := map[string]bool{}, 0
	for _, w := range words {
		if m := dayMarks[w]; m != "" {
			seen[m] = true
			continue
		}
		if strings.ContainsAny(w, "0123456789") {
			numbers++
			face := strings.ContainsAny(w, "x") && strings.Trim(w, "0123456789x") == ""
			seen[markFace] = seen[markFace] || face
		}
	}
	var out []string
	for _, m := range []string{markPastDay, markDay, markNextDay, markMonth, markFace, markTime} {
		if seen[m] {
			out = append(out, m)
		}
	}
	switch {
	case numbers > 1:
		out = append(out, markNumbers)
	case numbers == 1:
		out = append(out, markNumber)
	}
	return out
}
