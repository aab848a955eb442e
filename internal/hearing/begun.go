package hearing

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"shopfloat/internal/counts"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
	"shopfloat/internal/wording"
)

// A text that begins with a command's words is that command with what it takes, or a
// sentence of its own: "close to empty", "test pick failed". What a command takes is
// told by the words; of a sentence the decision says what it means.

// joints are the words that stand between what a command takes.
var joints = wording.Set(`total sum same as for of on from the at to till until and in
	x with a an per each my our
	this that all box boxes note notes bundle bundles pack packs loose safe bank machine more now please today
	tonight again everything both back change borrow return exchange swap warning
	excel csv xlsx pdf workbook paper journal ledger beancount
	staff manager managers owner owners list night summary usual
	opening closing opens closes open close daily weekdays weekend weekends everyday every except midnight
	noon round clock always first last next second third coming week weeks day days month months year
	yesterday tomorrow before after ago am pm oclock half quarter past top middle bottom none no zero eur euro
	euros pound pounds gbp chf usd dollar dollars hours hour
	christmas xmas eve easter whit boxing pentecost ascension assumption epiphany`)

// particles make another verb of a command's word: hold off, hold on, move on.
var particles = wording.Set(`off on up out down over`)

// pauses follow those: hold on a second.
var pauses = wording.Set(`sec second moment minute there please`)

// free are the commands that take any words behind them. One that nothing is learnt
// for is one of these, too.
var free = wording.Set(`hold contacts invite switch reference visit settings hours`)

// ofLine are the words of a bank's line that the command for a payment takes: 4300 for
// monday, charges 120, fee 20, ref AB12.
var ofLine = wording.Set(`charge charges fee fees commission less plus minus own`)

// onlyLine reports whether the strange words behind a payment are those of its line. A month
// that is a word of its own elsewhere is one there.
func (sit Situation) onlyLine(id, rest string) bool {
	strange := func(w string) bool { return w != "may" && !ofLine[w] && !sit.taken(w) }
	return (id == "credit" || id == "debit") && strings.ContainsFunc(rest, unicode.IsDigit) &&
		!slices.ContainsFunc(wording.Of(unreferred(rest)), strange)
}

// unreferred leaves out the reference of a payment, which may be any letters: ref FP/0107.
func unreferred(rest string) string {
	words := strings.Fields(rest)
	for i, w := range words {
		if w = strings.ToLower(strings.Trim(w, ",.:")); (w == "ref" || w == "reference") && i+1 < len(words) {
			return strings.Join(append(words[:i:i], words[i+2:]...), " ")
		}
	}
	return rest
}

// Takes reports whether what follows a command's words is no more than commands take:
// figures, days and times, kinds of note, boxes, names of people and places.
func (sit Situation) Takes(rest string) bool {
	return !phrasal(rest) && (sit.strange(rest) == 0 || sit.counted(rest))
}

// counted reports whether a rest is a count from end to end.
func (sit Situation) counted(rest string) bool {
	rest, _, _ = lines.RefusedBox(rest)
	res := counts.Parse(rest, sit.Counts)
	return !res.Prose && (res.Problem == nil || res.Problem.Code == counts.TooFew) &&
		(len(res.Items) > 0 || res.Total != "") && strings.ContainsFunc(rest, unicode.IsDigit)
}

// phrasal reports whether what follows makes another verb of a command's word.
func phrasal(rest string) bool {
	words := wording.Of(rest)
	if len(words) > 1 && words[0] == "to" && strings.ContainsFunc(words[1], unicode.IsDigit) {
		return true // close to 150
	}
	return len(words) > 0 && particles[words[0]] &&
		(len(words) == 1 || len(words) <= 3 && pauses[words[len(words)-1]])
}

// strange counts the words of a rest that no command takes.
func (sit Situation) strange(rest string) (n int) {
	for _, w := range wording.Of(rest) {
		sum := w == "total" && hasDigit(rest) // a slip that has no more than that
		if !sum && !sit.taken(w) {
			n++
		}
	}
	return n
}

func (sit Situation) taken(w string) bool {
	if strings.ContainsFunc(w, unicode.IsDigit) || joints[w] || countWords[w] || wording.Dated(w) ||
		len(w) == 1 {
		return true
	}
	is := func(name string) bool { return slices.Contains(wording.Of(name), w) }
	return slices.ContainsFunc(sit.Names, is) || slices.ContainsFunc(sit.Places, is)
}

// padding is what is said between a command's word and its figures.
var padding = wording.Rows("now", "please", "with", "it", "is", "the machine", "up", "has", "today", "the",
	"we have",
	"there is", "there are", "we are", "i am", "just now", "it now", "notes")

// Bare leaves out what is only said between a command's words and its figures.
func Bare(rest string) string {
	for again := strings.ContainsFunc(rest, unicode.IsDigit); again; {
		again = false
		for _, p := range padding {
			said := strings.Join(p, " ")
			if len(rest) > len(said) && strings.EqualFold(rest[:len(said)], said) &&
				strings.ContainsRune(" ,:", rune(rest[len(said)])) {
				rest, again = strings.TrimLeft(rest[len(said):], " ,:"), true
			}
		}
	}
	return rest
}

// faultMin is how sure a fault must be that is named by a command's word and one more:
// "test failed".
const faultMin = 0.25

// otherMin is how sure something else must be that is named by a command's word and one more, where
// nothing is learnt for that command: "printed lots".
const otherMin = 0.8

// Begun reports whether the command whose words a text begins with is meant by it, and
// with what behind it. One strange word is a slip of the hand unless it tells of a fault.
// Where a sentence is not clear it is for a choice of what may be meant.
func (d Decision) Begun(id, rest string, sit Situation) (means bool, takes string) {
	best := Reading{}
	if len(d.Readings) > 0 {
		best = d.Readings[0]
	}
	is := best.Kind == Command && best.ID == id && d.Act == Do
	fault := best.Kind == Guide && best.Sure >= faultMin
	known := slices.Contains(Names, id)
	switch {
	case d.Act == Alarm:
		return false, ""
	case phrasal(rest):
		return is, ""
	case sit.onlyLine(id, rest):
		return true, rest
	case rest == "us" || rest == "me": // the bank paid us
		return false, ""
	case !known: // a sentence that clearly means another is that, unless it has what the command takes
		has := free[id] && strings.ContainsFunc(rest, unicode.IsDigit)
		slip := sit.strange(rest) == 1 && best.Sure < otherMin
		return has || slip || d.Act == Ignore || sit.strange(rest) <= 2 && d.Act != Do, rest
	case free[id]:
		for _, object := range []string{"the machine ", "it "} { // do not load it until friday
			rest = strings.TrimPrefix(rest, object)
		}
		return d.Act == Ignore || slices.ContainsFunc(d.Readings, func(r Reading) bool {
			return r.Kind == Command && r.ID == id
		}), rest
	case sit.strange(rest) == 1:
		return !fault, rest
	}
	_, takes = best.Command(sit.Days.Today)
	return is, takes
}

// Typed writes what was said beside a command as it could be typed behind its word.
func (s Slots) Typed() string {
	var parts []string
	if len(s.Counts) > 0 {
		for _, face := range byValue(s.Counts) {
			parts = append(parts, fmt.Sprintf("%ss %d", face, s.Counts[face])) // 50x20 may be 50 twenties
		}
		return strings.Join(parts, " ")
	}
	day := string(s.Date)
	if s.From != "" {
		day = monthOrDays(s.From, s.To)
	} else if s.To != "" {
		day = "until " + string(s.To)
	}
	if s.Money != "" {
		parts = append(parts, s.Money)
		if day != "" {
			day = "for " + day
		}
	}
	for _, part := range []string{s.Person, s.Text, day, s.Time} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, " ")
}

// carriedBy are the commands of the chat that do what has another name here, with what is
// typed behind them first.
var carriedBy = map[string][2]string{
	"pause": {"mute"}, "journal": {"export", "journal"}, "finish-month": {"month"},
}

// takesNone are the commands whose readers know none of the slots.
var takesNone = wording.Set(`hours reminders status faults correct visit lift`)

// Command is the command of the chat that a reading is done by, and what is typed behind
// its word. A payment's day is that of the closing it is for; that it came today names none.
func (r Reading) Command(today shop.Date) (name, typed string) {
	s := r.Slots
	if (r.ID == "credit" || r.ID == "debit") && s.Date == today {
		s.Date = ""
	}
	by, other := carriedBy[r.ID]
	switch {
	case r.ID == "status" && s.Date != "" && s.Date != today: // who opened yesterday
		return "day", string(s.Date)
	case takesNone[r.ID]:
		return r.ID, ""
	case r.ID == "duty" && s.Person == "": // a question of who is there
		return "agenda", s.Typed()
	case !other:
		return r.ID, s.Typed()
	}
	return by[0], strings.TrimSpace(by[1] + " " + s.Typed())
}

// codeMax is how long what a button carries is at most.
const codeMax = 22

// Code is what is typed behind a command in the letters that a button's answer may have,
// for a thing that is only offered yet; empty where it does not go into them.
func Code(typed string) string {
	code := strings.ToLower(strings.ReplaceAll(typed, " ", "."))
	if strings.Contains(typed, ".") || len(code) > codeMax ||
		strings.Trim(code, ".-0123456789abcdefghijklmnopqrstuvwxyz") != "" {
		return ""
	}
	return code
}

// FromCode is a code as it could be typed.
func FromCode(code string) string { return strings.ReplaceAll(code, ".", " ") }

// monthOrDays writes days in a row, a whole month by its name.
func monthOrDays(from, to shop.Date) string {
	m := when.Month{Year: from.Time().Year(), Month: from.Time().Month()}
	if m.First() == from && m.Last() == to {
		return from.Time().Format("January 2006")
	}
	return string(from) + " to " + string(to)
}

// byValue lists kinds of note, the highest first.
func byValue(counts map[string]int64) []string {
	var faces []string
	for face := range counts {
		faces = append(faces, face)
	}
	slices.SortFunc(faces, func(a, b string) int {
		if len(a) != len(b) {
			return len(b) - len(a)
		}
		return strings.Compare(b, a)
	})
	return faces
}
