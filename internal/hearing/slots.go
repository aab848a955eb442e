package hearing

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"shopfloat/internal/counts"
	"shopfloat/internal/when"
	"shopfloat/internal/wording"
)

// about says which slots a command has.
type about struct {
	lean   when.Lean
	day    bool // a day or days
	month  bool // a month, as its days
	time   bool
	money  bool
	counts bool
	person bool
	name   bool // of somebody who is not known yet
	until  bool // "till friday" is its end, not a span from today
}

// slotted are the slots of the commands. A test reads it.
var slotted = map[string]about{
	"open": {counts: true}, "topup": {counts: true}, "swap": {counts: true}, "close": {counts: true},
	"level": {counts: true}, "count-now": {counts: true}, "second": {counts: true}, "found": {counts: true},
	"test": {counts: true}, "move": {counts: true, money: true},
	"credit": {money: true, day: true, lean: when.Lately}, "debit": {money: true, day: true, lean: when.Lately},
	"owed": {day: true, month: true, lean: when.Lately}, "day": {day: true, lean: when.Lately},
	"month": {month: true, lean: when.Back}, "export": {month: true, day: true, lean: when.Back},
	"finish-month": {month: true, lean: when.Back}, "journal": {month: true, day: true, lean: when.Back},
	"statement": {month: true, day: true, lean: when.Back}, "picture": {month: true, day: true, lean: when.Back},
	"history": {day: true, month: true, person: true, lean: when.Lately},
	"correct": {day: true, person: true, lean: when.Lately}, "undo": {},
	"earlier": {day: true, time: true, lean: when.Lately}, "leaks": {day: true, month: true, lean: when.Lately},
	"faults": {day: true, month: true, lean: when.Back},
	"closed": {day: true, time: true}, "hours": {day: true, time: true}, "agenda": {day: true},
	"hold": {day: true, until: true}, "lift": {day: true}, "reminders": {time: true, day: true},
	"pause": {day: true, until: true, time: true}, "ill": {day: true, person: true},
	"duty": {day: true, person: true, time: true}, "load": {day: true}, "cash-plan": {day: true},
	"status": {day: true, person: true, lean: when.Lately}, "visit": {day: true, time: true},
	"people": {person: true}, "lost-phone": {person: true}, "invite": {name: true},
	"backtest": {month: true, day: true, lean: when.Back},
}

// fill reads what a text says beside what it wants.
func fill(id, text string, sit Situation) Slots {
	var s Slots
	a, ok := slotted[id]
	if !ok || len(text) > wording.BytesMax {
		return s
	}
	left := text
	if a.day || a.month {
		left = s.takeDays(left, a, sit.Days)
	}
	if a.time {
		left = s.takeTime(left)
	}
	if a.counts {
		s.Counts = countsIn(left, sit.Counts)
	}
	if a.money && s.Counts == nil {
		s.Money = moneyIn(left)
	}
	if a.person {
		s.Person = personIn(text, sit.Names)
	}
	if a.name {
		s.Text = newName(text)
	}
	return s
}

// starts are the places of a text at which a word or a figure begins.
var starts = regexp.MustCompile(`[\p{L}\p{N}€£$-][^\s]*`)

// takeDays finds a day, days or a month, and gives the text without it.
func (s *Slots) takeDays(text string, a about, r when.Reader) string {
	if r.Words == nil {
		return text
	}
	low := strings.ToLower(text)
	for _, at := range starts.FindAllStringIndex(low, wording.WordsMax) {
		tail := low[at[0]:]
		if bareWord(tail, r) {
			continue
		}
		if a.month {
			if m, n := monthAt(r, tail, a.lean); n > 0 {
				s.From, s.To = m.First(), m.Last()
				return text[:at[0]] + text[min(len(text), at[0]+n):]
			}
		}
		if !a.day {
			continue
		}
		days, rest, why := r.Days(tail, a.lean)
		if why != when.OK {
			continue
		}
		switch {
		case a.until && days.From == r.Today && days.To > days.From && isUntil(tail, r):
			s.To = days.To
		case days.From == days.To && a.until && endsInUntil(low[:at[0]], r):
			s.To = days.To
		case days.From == days.To:
			s.Date = days.From
		default:
			s.From, s.To = days.From, days.To
		}
		cut := len(text) - len(rest)
		if !strings.HasSuffix(low, rest) {
			cut = len(text)
		}
		return text[:at[0]] + " " + text[cut:]
	}
	return text
}

func isUntil(tail string, r when.Reader) bool {
	return slices.ContainsFunc(r.Words.Until, func(w string) bool { return strings.HasPrefix(tail, w+" ") })
}

// endsInUntil reports whether what stands before a day makes it an end: until the 20th.
func endsInUntil(before string, r when.Reader) bool {
	words := strings.Fields(before)
	if n := len(words); n > 0 && words[n-1] == "the" {
		words = words[:n-1]
	}
	return len(words) > 0 && slices.Contains(r.Words.Until, words[len(words)-1])
}

// bareWord reports whether a day seems named where a word only looks like one:
// "second" in "a second count", "may" in "may i", "sat" and "mar" within a sentence.
func bareWord(tail string, r when.Reader) bool {
	first, rest, _ := strings.Cut(tail, " ")
	if slices.Contains([]string{"first", "second", "third"}, first) {
		next, _, _ := strings.Cut(rest, " ")
		return next != "of" && !slices.ContainsFunc(r.Words.Months, func(m string) bool {
			return len(next) >= 3 && strings.HasPrefix(m, next)
		})
	}
	if first == "may" {
		next, _, _ := strings.Cut(rest, " ")
		return slices.Contains([]string{"i", "we", "they", "he", "she", "you", "be", "load", "have"}, next)
	}
	return first == "mar" || first == "on" && !strings.ContainsAny(rest, "0123456789") && rest == ""
}

// monthWords is how many words a month takes at most: december of last year.
const monthWords = 4

// monthAt reads a month at the beginning of a text, and how long it is.
func monthAt(r when.Reader, tail string, lean when.Lean) (m when.Month, n int) {
	ends := starts.FindAllStringIndex(tail, monthWords)
	for i := len(ends) - 1; i >= 0; i-- {
		piece := strings.TrimRight(tail[:ends[i][1]], "?!.,: ")
		if year, ok := lastYearOf(r, piece); ok {
			return year, ends[i][1]
		}
		piece = strings.TrimPrefix(piece, "the ")
		if this, ok := strings.CutPrefix(piece, "this "); ok && slices.Contains(r.Words.Month, this) {
			piece = this
		} else if slices.Contains(r.Words.Month, piece) {
			return m, 0 // a word of the command
		}
		if got, why := r.Month(piece, lean); why == when.OK {
			return got, ends[i][1]
		}
	}
	return m, 0
}

// lastYearOf reads "december of last year".
func lastYearOf(r when.Reader, piece string) (when.Month, bool) {
	name, ok := strings.CutSuffix(piece, " of last year")
	if !ok {
		if name, ok = strings.CutSuffix(piece, " last year"); !ok {
			return when.Month{}, false
		}
	}
	m, why := r.Month(name, when.Back)
	if why != when.OK {
		return m, false
	}
	m.Year = r.Today.Time().Year() - 1
	return m, true
}

// timeWords stand before a time of day.
var timeWords = regexp.MustCompile(`(?i)\b(at|to|until|till|from|by|about|around|past|@)\s+(\d)`)

// halfPast is a time in words, on which hour, and how many minutes off it.
var halfPast = regexp.MustCompile(`(?i)\b(half|quarter|ten|twenty|five) (past|to) ` +
	`(one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\d{1,2})\b`)

// sharp is a time that shows by itself: 7:30, 8pm.
var sharp = regexp.MustCompile(`(?i)\b\d{1,2}(?:[:.]\d{2})?\s?(?:am|pm)\b|\b\d{1,2}:\d{2}\b`)

var minutesOff = map[string]int{"half": 30, "quarter": 15, "ten": 10, "twenty": 20, "five": 5}

var hourWords = []string{"", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
	"eleven", "twelve"}

// takeTime finds a time of day, and gives the text without it.
func (s *Slots) takeTime(text string) string {
	if m := halfPast.FindStringSubmatchIndex(text); m != nil {
		off := minutesOff[strings.ToLower(text[m[2]:m[3]])]
		word := strings.ToLower(text[m[6]:m[7]])
		hour := slices.Index(hourWords, word)
		if hour < 0 {
			if _, err := fmt.Sscan(word, &hour); err != nil || hour > 23 {
				return text
			}
		}
		minutes := hour*60 + off
		if strings.EqualFold(text[m[4]:m[5]], "to") {
			minutes = hour*60 - off
		}
		s.Time = fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
		return text[:m[0]] + text[m[1]:]
	}
	at := -1
	if m := sharp.FindStringIndex(text); m != nil {
		at = m[0]
	} else if m := timeWords.FindStringSubmatchIndex(text); m != nil {
		at = m[4]
	}
	if at < 0 {
		return text
	}
	minutes, rest, why := when.Clock(text[at:])
	if why != when.OK || minutes >= 1440 {
		return text
	}
	s.Time = fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
	return text[:at] + rest
}

// countPiecesMax bounds the pieces of a text that are tried as counts.
const countPiecesMax = 14

// countsIn finds counts of notes in a sentence: the longest piece that says
// nothing else.
func countsIn(text string, req counts.Request) map[string]int64 {
	if len(req.Lines) == 0 {
		return nil
	}
	words := starts.FindAllStringIndex(text, wording.WordsMax)
	var cuts [][]int
	for _, w := range words {
		if countish(strings.ToLower(text[w[0]:w[1]])) && !timeBehindAt(text[:w[0]], text[w[0]:w[1]], req) {
			cuts = append(cuts, w)
		}
	}
	if len(cuts) == 0 || len(cuts) > countPiecesMax {
		return nil
	}
	piece := func(i, n int) map[string]int64 {
		from, to := cuts[i][0], cuts[i+n-1][1]
		last := cuts[i+n-1][0]
		if n > 1 && !linked.MatchString(text[from:last]) && ofSomething(text[last:to], text[to:]) {
			return nil
		}
		if from > 0 && text[from-1] == '+' { // of what is added the notes come first
			from--
		}
		said := besideCounts.Replace(text[from:to])
		return faces(counts.Parse(strings.TrimRight(said, "?!., "), req), req)
	}
	for n := len(cuts); n > 0; n-- {
		for i := 0; i+n <= len(cuts); i++ {
			found := piece(i, n)
			if found == nil {
				continue
			}
			for at, w := range cuts { // a count must not be dropped that stands beside it
				word := text[w[0]:w[1]]
				if (at < i || at >= i+n) && (hasDigit(word) && !strings.Contains(word, ":") ||
					at+1 < len(cuts) && (at+1 < i || at >= i+n) && piece(at, 2) != nil) {
					return nil
				}
			}
			return found
		}
	}
	return nil
}

// besideCounts takes away what people say between counts and what they are of, or in which box.
var besideCounts = strings.NewReplacer(" notes of ", " x ", " of the ", " of ", " more ", " ", " extra ", " ",
	" in the ", " ", " into the ", " ", " to the ", " ", " at the ", " ", " on the ", " ", " in top", " top",
	" on top", " top", " at bottom", " bottom", " box", "")

// ofSomething reports whether a number is one of something that is no note, like 7 things.
func ofSomething(number, after string) bool {
	next := wording.Of(after)
	return counts.Digits(number) && len(next) > 0 && strings.HasPrefix(after, " ") &&
		!wording.Function[next[0]] && !wording.Idle[next[0]] && !ofNotes[next[0]]
}

// linked is what stands before a number that counts notes already: 20x50.
var linked = regexp.MustCompile(`[xX×*:=] ?$`)

var ofNotes = wording.Set(`note notes left each euro euros pound pounds dollar dollars franc francs`)

// timeBehindAt reports whether a word is a time of day rather than a count: at 10:15, at 9.
func timeBehindAt(before, word string, req counts.Request) bool {
	if before = strings.ToLower(before); !strings.HasSuffix(" "+before, " at ") {
		return false
	}
	word = strings.Trim(word, ".,;!?")
	return strings.Contains(word, ":") || len(word) <= 2 && !slices.ContainsFunc(req.Lines,
		func(l counts.Line) bool { return l.Face == word })
}

// countish reports whether a word can be part of a count.
func countish(w string) bool {
	w = strings.Trim(w, ".,:;!?")
	return hasDigit(w) || countWords[w]
}

// OnlyFigures reports whether a text has numbers, and next to nothing beside them: it is
// about a count, and no question.
func OnlyFigures(text string) bool {
	digits, numbers, others := false, 0, 0
	words := wording.Of(text)
	if len(words) > 0 && questionWords[words[0]] {
		return false // "what do i do with a ripped one" counts nothing
	}
	for _, w := range words {
		switch {
		case strings.ContainsFunc(w, unicode.IsDigit):
			digits = true
			numbers++
		case countWords[w] && w != "a" && w != "no" && w != "one":
			numbers++
		case !wording.Function[w] && !wording.Idle[w]:
			others++
		}
	}
	return (digits || numbers > 1) && others <= 1 && !strings.Contains(text, "?")
}

var questionWords = wording.Set(`what how why where who which when can may should shall does is are`)

var countWords = wording.Set(`one two three four five six seven eight nine ten eleven twelve thirteen fourteen
	fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred
	thousand a bundle bundles pack packs ones twos fives tens twenties fifties hundreds thousands
	tenner tenners fiver fivers none zero
	top middle mid centre center bottom`)

// faces gives what was understood by kind of note, nil unless all was.
func faces(res counts.Result, req counts.Request) map[string]int64 {
	whole := res.Problem == nil || res.Problem.Code == counts.TooFew
	if !whole || res.Prose || res.Bare || len(res.Items) == 0 {
		return nil
	}
	out := map[string]int64{}
	for _, it := range res.Items {
		out[req.Lines[it.Line].Face] += it.Notes
	}
	return out
}

// amount is a sum of money in figures.
var amount = regexp.MustCompile(
	`(?i)(?:^|[^\p{L}\d.,])[€£$]?(\d{1,3}(?:[ '](?:\d{3}))+|\d[\d.,']*\d|\d)(?:[.,]-)?(k)?\b`)

// moneyIn finds a sum of money, as a decimal number.
func moneyIn(text string) string {
	m := amount.FindStringSubmatch(text)
	if m == nil {
		return moneyInWords(text)
	}
	digits := strings.NewReplacer(" ", "", "'", "").Replace(m[1])
	at := strings.LastIndexAny(digits, ".,")
	whole, part := digits, ""
	if at >= 0 && len(digits)-at-1 != 3 {
		whole, part = digits[:at], digits[at+1:]
	}
	whole = strings.NewReplacer(".", "", ",", "").Replace(whole)
	if m[2] != "" { // 2.1k
		part += strings.Repeat("0", max(0, 3-len(part)))
		return whole + part
	}
	if part = strings.TrimRight(part, "0"); part != "" {
		if len(part) == 1 {
			part += "0"
		}
		return whole + "." + part
	}
	return whole
}

// moneyInWords reads "four thousand four hundred".
func moneyInWords(text string) string {
	req := counts.Request{Lines: []counts.Line{{Face: "1", Position: 1}}}
	var cuts [][]int
	for _, w := range starts.FindAllStringIndex(text, wording.WordsMax) {
		if countWords[strings.ToLower(text[w[0]:w[1]])] {
			cuts = append(cuts, w)
		}
	}
	if len(cuts) == 0 || len(cuts) > countPiecesMax {
		return ""
	}
	for n := len(cuts); n > 0; n-- {
		for i := 0; i+n <= len(cuts); i++ {
			res := counts.Parse(text[cuts[i][0]:cuts[i+n-1][1]], req)
			if res.Problem == nil && !res.Prose && len(res.Items) == 1 && res.Items[0].Notes > 1 {
				return fmt.Sprint(res.Items[0].Notes)
			}
		}
	}
	return ""
}

// personIn finds somebody who is known.
func personIn(text string, names []string) string {
	words := wording.Of(text)
	for _, name := range names {
		n := wording.Of(name)
		if len(n) > 0 && slices.ContainsFunc(words, func(w string) bool { return w == n[0] || w == n[0]+"s" }) {
			return name
		}
	}
	return ""
}

// called is what stands before the name of somebody new.
var called = regexp.MustCompile(`(?i)\b(?:invite|add|get|let|give|register|named|called|onboard|sign\s+up|` +
	`access for|link for|account for)\s+`)

// newName finds the name of somebody who is to be let in: the first word behind that is neither who they
// are to somebody, as in "my nephew jonas", nor a word of the sentence.
func newName(text string) string {
	for _, at := range called.FindAllStringIndex(text, -1) {
		for w := range strings.FieldsSeq(text[at[1]:]) {
			w = strings.TrimFunc(w, func(r rune) bool { return !unicode.IsLetter(r) })
			low := strings.ToLower(w)
			if relation[low] || notNames[low] {
				continue
			}
			if len(low) > 1 && !wording.Function[low] {
				return w
			}
			break
		}
	}
	return ""
}

// relation are words that may stand before a name.
var relation = wording.Set(`my our his her a an the nephew niece uncle aunt auntie mum mam dad
	grandson granddaughter
	called named by name of`)

var notNames = wording.Set(`somebody someone colleague person employee manager owner staff new girl guy boy
	brother sister wife
	husband son daughter access link people another him her them worker starter member team bookkeeper user
	users account
	friend cousin mother father partner helper student temp in invite one two`)
