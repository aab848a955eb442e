// Package secrets finds what people must not write into a chat: the combination
// of a safe, the code of a door or an alarm, a personal code, a password, the
// number of a customer's card. Counts, money, times, and the numbers that
// machines, slips and letters carry are none. How often it is right is measured
// by a labelled set in testdata.
package secrets

import (
	"strings"
	"unicode/utf8"
)

// What says which kind of secret was found. The zero value is none.
type What string

// The kinds of secrets.
const (
	Nothing  What = ""
	Code     What = "code"     // of a safe, a door, an alarm, a person
	Password What = "password" // words and figures
	Card     What = "card"     // the number of a bank card
)

// Limits bound what is looked at, so that no message takes long.
const longest = 8192

// Find says what secret a message seems to hold. counting says that the chat is
// in the middle of a count: then figures that no word calls a code are a count.
func Find(text string, counting bool) What {
	if bare(text) {
		return Nothing // nearly every message is a few figures
	}
	if len(text) > longest {
		text = cut(text)
	}
	words := split(text)
	switch {
	case cardIn(words):
		return Card
	case passwordIn(words):
		return Password
	case named(words), opening(words), owned(words), weighed(words, counting):
		return Code
	case !counting && (dialled(text, words) || alone(words)):
		return Code
	}
	return Nothing
}

// Few is how many characters a text of figures may have that is never looked into.
const Few = 12

// bare says that a text is nothing but a few figures in a row, set apart by
// blanks or commas.
func bare(text string) bool {
	for i := range len(text) {
		if c := text[i]; c != ' ' && c != ',' && (c < '0' || c > '9') {
			return false
		}
	}
	return len(text) <= Few
}

// cut takes the beginning and the end of a long text.
func cut(text string) string {
	head, tail := text[:longest/2], text[len(text)-longest/2:]
	for !utf8.ValidString(head) && head != "" {
		head = head[:len(head)-1]
	}
	for !utf8.ValidString(tail) && tail != "" {
		tail = tail[1:]
	}
	return head + " " + tail
}

// named finds a figure beside a word that names a secret: "alarm 4411", "my pin
// is 2 2 1 1", "7182 is the code for the door".
func named(words []word) bool {
	for i, w := range words {
		strength := names[w.text]
		if strength == holds && (codeFor(words, i) || i+1 < len(words) && codeWords[words[i+1].text]) {
			strength = place
		}
		switch {
		case strength == 0 || refused(words, i):
			continue
		case after(words, i, strength), before(words, i, strength), strength >= place && near(words, i):
			return true
		}
	}
	return false
}

// codeFor says that a name has a word for a code in front: "the service code for the safe".
func codeFor(words []word, at int) bool {
	for i := at - 1; i >= 0 && i >= at-4; i-- {
		if codeWords[words[i].text] {
			return true
		}
		if !joins[words[i].text] {
			return false
		}
	}
	return false
}

// reach is how many words may stand between a name and its figure.
const reach = 6

// after looks for a secret that follows its name, over words that only join them.
func after(words []word, at int, s strength) bool {
	stated := words[at].text == "padlock"
	for i := at + 1; i < len(words) && i <= at+reach; i++ {
		w := words[i]
		if w.digits != "" {
			return !timely(words, i) && fits(words, i, s, stated)
		}
		if names[w.text] > s {
			s = names[w.text]
			stated = false
		}
		if s == holds && (codeWords[w.text] || w.text == "number") {
			s = place
		}
		if !joins[w.text] && names[w.text] == 0 && !belongs(words, i) {
			return false
		}
		stated = stated || states[w.text] || codeWords[w.text] || w.text == "padlock"
	}
	return false
}

// near looks for a figure of four to eight digits in the same sentence as a
// name that has nothing but a code: "if the siren starts type 5093".
func near(words []word, at int) bool {
	for i := max(0, at-reach); i < len(words) && i <= at+reach; i++ {
		w := words[i]
		few := len(w.digits) == 1 || len(w.digits) == 2
		if names[words[at].text] == strong && i > at && few && !apart(words, at, i) &&
			len(figures(words, i).list) >= 3 && fits(words, i, strong, true) {
			return true
		}
		if len(w.digits) < 4 || len(w.digits) > 8 || w.unit || i > 0 && (timely(words, i) ||
			months[words[i-1].text]) || apart(words, at, i) {
			continue
		}
		row := i > 0 && words[i-1].digits != "" || i+1 < len(words) && words[i+1].digits != ""
		if !row && (i == 0 || !noSecret[words[i-1].text] && !callers[words[i-1].text]) {
			return true
		}
	}
	return false
}

// apart says that a sentence ends between two words.
func apart(words []word, a, b int) bool {
	for i := min(a, b) + 1; i <= max(a, b); i++ {
		if strings.ContainsAny(words[i].sep, ".!?;\n") {
			return true
		}
	}
	return false
}

// belongs says that a word tells whose or what for a code is: "code for ben
// 7182", "combination of the small safe 48 29 13".
func belongs(words []word, i int) bool {
	for j := i - 1; j >= 0 && j >= i-3; j-- {
		switch words[j].text {
		case "for", "of", "to", "from":
			return !noSecret[words[i].text]
		case "the", "my", "our", "new":
		default:
			if names[words[j].text] == 0 && !codeWords[words[j].text] {
				return false
			}
		}
	}
	return false
}

// before looks for a secret in front of its name: "7182 is the alarm", "4411
// opens the safe", "71-42-93 for the safe".
func before(words []word, at int, s strength) bool {
	verb := false
	for i := at - 1; i >= 0 && i >= at-reach; i-- {
		w := words[i]
		if w.digits != "" {
			if i > 0 && (noSecret[words[i-1].text] || i > 1 && noSecret[words[i-2].text]) {
				return false
			}
			return (verb || s == strong || i == at-1 && s >= place) && fitsBefore(words, i, s)
		}
		if !joins[w.text] && !states[w.text] && names[w.text] == 0 {
			return false
		}
		verb = verb || states[w.text] || w.text == "for"
		if w.text == "to" || w.text == "in" || w.text == "from" {
			return false // money goes to the safe
		}
	}
	return false
}

func fitsBefore(words []word, last int, s strength) bool {
	first := last
	for first > 0 && words[first-1].digits != "" {
		first--
	}
	return fits(words, first, max(s, place), true)
}

// fits says whether the figures that begin at a word can be what its name says:
// a figure of four to eight digits, or some of one or two.
func fits(words []word, at int, s strength, stated bool) bool {
	run := figures(words, at)
	total, short := 0, true
	for _, d := range run.list {
		total += len(d)
		short = short && len(d) <= 2
	}
	switch {
	case run.unit:
		return false
	case len(run.list) > 1 && short:
		return (total >= 4 || s == strong && len(run.list) >= 3) && total <= 16 && !run.date
	case len(run.list) > 1:
		return false
	case s == strong || s == place:
		return total >= 4 && total <= 12 || total == 3 && stated
	case s == holds && stated:
		return total >= 5 && total <= 8 || total == 4 && !strings.HasSuffix(run.list[0], "0")
	}
	return s == holds && total >= 6 && total <= 8
}

// refused says that a name stands among words that make it none: the pin pad of
// the machine, a code on its screen, an alarm that went off.
func refused(words []word, at int) bool {
	for i := max(0, at-reach); i < len(words) && i <= at+reach; i++ {
		if i > at && words[i].digits != "" {
			i = len(words) // what follows the figure belongs to it, not to the name
			continue
		}
		if i != at && noSecret[words[i].text] {
			return true
		}
	}
	if at > 0 && (otherCode[words[at-1].text] || words[at-1].text == "an") {
		return true // an alarm is one that rings
	}
	for i := at + 1; i < len(words) && i <= at+12; i++ {
		if onPaper[words[i].text] && names[words[at].text] <= said {
			return true
		}
	}
	return false
}

// opening finds figures that open something: "type 7182 at the door", "get in
// with 7182", "disarm with 8080".
func opening(words []word) bool {
	for i, w := range words {
		if len(w.digits) < 4 || len(w.digits) > 8 || figures(words, i).unit {
			continue
		}
		from, to := max(0, i-reach), min(len(words), i+reach+1)
		for j := from; j < to; j++ {
			switch {
			case noSecret[words[j].text]:
				j, to = to, 0
			case j < i && opensWith(words[j:i]):
				return true
			}
		}
		if to != 0 && (w.hash || keyed(words, i)) {
			return true
		}
	}
	return false
}

// keyed says that a figure is pressed somewhere to get in: "type 7182 at the
// door", "use 7182 to get in", "press 7182 and then the hash".
func keyed(words []word, at int) bool {
	pressed := false
	for i := max(0, at-2); i < at; i++ {
		pressed = pressed || presses[words[i].text]
	}
	for i := max(0, at-reach); pressed && i+1 < at; i++ {
		if words[i].text == "get" && words[i+1].text == "in" {
			return true
		}
	}
	for i := at + 1; pressed && i < len(words) && i <= at+5; i++ {
		switch words[i].text {
		case "hash", "star", "door", "keypad", "gate", "open", "lock", "shutter", "disarm", "unlock":
			return true
		case "get", "come":
			return i+1 < len(words) && words[i+1].text == "in"
		}
	}
	return false
}

// opensWith says that words lead up to a code: an act that opens, and "with" or
// nothing between it and the figure.
func opensWith(words []word) bool {
	switch words[0].text {
	case "disarm", "unlock":
		return true
	case "arm":
		return words[len(words)-1].text == "with"
	case "get", "in", "gets":
		last := words[len(words)-1].text
		return last == "with" && (words[0].text != "in" || len(words) <= 2)
	}
	return false
}

// owned finds a code with its owner or its time: "my code is 7182", "the new
// code is 7182". A code that only stands there is one that a machine shows.
func owned(words []word) bool {
	for i, w := range words {
		if !codeWords[w.text] || refused(words, i) || i > 0 && otherCode[words[i-1].text] {
			continue
		}
		whose := sent(words, i) || i > 0 && w.sep == "" && (owners[words[i-1].text] || words[i-1].owner) ||
			i > 1 && owners[words[i-2].text] && words[i-1].sep+w.sep == ""
		run := words[i+1:]
		is, gap := false, 0
		for gap < len(run) && run[gap].digits == "" && gap < reach &&
			(joins[run[gap].text] || states[run[gap].text] || belongs(words, i+1+gap) || later(run[gap:])) {
			is = is || states[run[gap].text]
			whose = whose || gap > 0 && (run[gap-1].text == "for" || run[gap-1].text == "from") && belongs(words,
				i+1+gap)
			gap++
		}
		if gap < len(run) && (whose || is) && fits(words, i+1+gap, strong, true) {
			return true
		}
		if changedTo(words, i) {
			return true
		}
	}
	return false
}

// later says that what the words are about is said after them: "the code they
// sent me is 550128".
func later(words []word) bool {
	for i, w := range words {
		if i > 4 || w.digits != "" || noSecret[w.text] {
			return false
		}
		if w.text == "is" {
			return i+1 < len(words) && words[i+1].digits != ""
		}
	}
	return false
}

// sent says that somebody sent or gave a code: "they texted me the code 771204".
func sent(words []word, at int) bool {
	for i := max(0, at-4); i < at; i++ {
		if gave[words[i].text] {
			return true
		}
	}
	return false
}

// changedTo reads "code changed to 7182" and "7182 is the code", "4411 is my code".
func changedTo(words []word, at int) bool {
	for i := at - 1; i >= 0 && i >= at-reach; i-- {
		if words[i].digits != "" {
			return i < at-1 && fits(words, i, strong, true)
		}
		if !joins[words[i].text] && !states[words[i].text] && !owners[words[i].text] {
			return false
		}
	}
	return false
}

// alone takes a message of hardly more than "code 482913" for a secret: codes
// of machines are shorter.
func alone(words []word) bool {
	for len(words) > 0 && !codeWords[words[0].text] && (joins[words[0].text] || states[words[0].text]) {
		words = words[1:]
	}
	if len(words) < 2 || !codeWords[words[0].text] {
		return false
	}
	rest := words[1:]
	for len(rest) > 0 && states[rest[0].text] {
		rest = rest[1:]
	}
	run := figures(rest, 0)
	if len(run.list) == 0 || len(run.list) != len(rest) || run.unit {
		return false
	}
	return len(run.list) == 1 && len(run.list[0]) >= 6 && len(run.list[0]) <= 8 ||
		len(run.list) >= 3 && fits(rest, 0, strong, true)
}
