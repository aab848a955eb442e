package secrets

import (
	"regexp"
	"strings"
)

// cardIn finds the number of a bank card: 13 to 19 digits that end in their
// check digit (ISO/IEC 7812-1, annex B), in one row or in groups of at least two.
func cardIn(words []word) bool {
	for i := range words {
		digits := ""
		for j := i; j < len(words) && words[j].digits != "" && len(digits) < 20; j++ {
			if len(words[j].digits) < 3 || j > i && !strings.Contains(" -", words[j].sep) && words[j].sep != "" {
				break
			}
			digits += words[j].digits
			if len(digits) >= 13 && len(digits) <= 19 && strings.ContainsAny(digits[:1], "23456") && luhn(digits) &&
				(j == i && len(digits) >= 14 || j > i && j < i+5) && !account(words, i) {
				return true
			}
		}
	}
	return false
}

// account says that a number is called an account's or a barcode's.
func account(words []word, at int) bool {
	for i := max(0, at-3); i < at; i++ {
		switch words[i].text {
		case "iban", "account", "barcode", "serial", "invoice", "order", "reference", "ref", "ticket":
			return true
		}
	}
	return false
}

func luhn(digits string) bool {
	sum := 0
	for i := range len(digits) {
		d := int(digits[len(digits)-1-i] - '0')
		if i%2 == 1 {
			if d *= 2; d > 9 {
				d -= 9
			}
		}
		sum += d
	}
	return sum%10 == 0
}

var passwords = set("password passwords passwort pw pwd pass mot contraseña hasło " +
	"senha kennwort login wachtwoord wifi wlan")

// passwordIn finds a password: behind its name a word that has figures in it, or
// a figure alone.
func passwordIn(words []word) bool {
	for i, w := range words {
		if !passwords[w.text] {
			continue
		}
		if i > 2 && states[words[i-2].text] && strings.ContainsAny(words[i-3].text, "0123456789") &&
			len(words[i-3].text) >= 5 {
			return true
		}
		for j := i + 1; j < len(words) && j <= i+5; j++ {
			v := words[j].text
			mixed := strings.ContainsAny(v, "0123456789") && !timely(words, j)
			if mixed && (len(v) >= 5 || len(words[j].digits) == 4) && !words[j].unit &&
				(words[j].digits == "" || len(words[j].digits) >= 4) {
				return true
			}
			if words[j].sep == "-" && mixed {
				return true // sunny-day-77
			}
			if glued := j+1 < len(words) && words[j+1].glued && len(words[j+1].digits) >= 2; glued && len(v) >= 3 {
				return true // kettle!2024
			}
			if len(v) > 9 || noSecret[v] {
				break
			}
		}
	}
	return false
}

var (
	dial = regexp.MustCompile(
		`(?:^|[^\d\-/.])(\d{1,2})\s*-\s*(\d{1,2})\s*-\s*(\d{1,2})(?:\s*-\s*\d{1,2})*(?:$|[^\d\-x])`)
	// A turn is a side and a figure. Two of different sides are a dial's.
	turnsTo = regexp.MustCompile(`(?i)\b(l|r|left|right)\s?(?:to |on |)(\d{1,2})\b`)
	turnsOf = regexp.MustCompile(`(?i)\b(\d{1,2})\s?(l|r|left|right)\b`)
	timesTo = regexp.MustCompile(`(?i)\btimes (?:to the )?(?:left|right) to \d{1,2}\b`)
)

// dialled finds what one turns at a dial lock: "12-34-56", "71R 42L 93R", "left
// 20 right 45". A day of a month is none, nor is what a sentence about a count says.
func dialled(text string, words []word) bool {
	for _, w := range words {
		if units[w.text] && w.text != "left" && w.text != "right" && w.text != "times" && w.text != "s" ||
			dayWords[w.text] {
			return false
		}
	}
	if timesTo.MatchString(text) || turned(turnsTo, text, 1) || turned(turnsOf, text, 2) {
		return true
	}
	for i, w := range words {
		if (w.text == "dial" || w.text == "turn" || w.text == "spin") && turnsAfter(words[i+1:]) {
			return true
		}
	}
	for _, m := range dial.FindAllStringSubmatch(text, -1) {
		if len(m[1]) == 2 && len(m[2]) == 2 && len(m[3]) == 2 && !date(m[1:4]) {
			return true
		}
	}
	return false
}

// turnsAfter says that three short figures follow, with nothing but words that join them.
func turnsAfter(words []word) bool {
	n := 0
	for _, w := range words {
		switch {
		case w.digits != "" && len(w.digits) <= 2 && !w.unit:
			n++
		case w.digits != "" || !joins[w.text] && w.text != "it" && w.text != "then" && w.text != "left" &&
			w.text != "right":
			return n >= 3
		}
	}
	return n >= 3
}

var dayWords = set("earlier closed sort count counted slip refused")

// turned says that figures are turned to, first to one side and then to the other.
func turned(p *regexp.Regexp, text string, side int) bool {
	before, end := "", -1
	for _, m := range p.FindAllStringSubmatchIndex(text, -1) {
		s := strings.ToLower(text[m[2*side] : m[2*side]+1])
		if before != "" && s != before && m[0]-end <= 8 {
			return true
		}
		before, end = s, m[1]
	}
	return false
}
