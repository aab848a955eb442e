package secrets

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// A word is one of a message: letters, or figures, or both.
type word struct {
	text   string // in small letters, without a possessive 's
	typed  string
	digits string // its figure, when it is one
	sep    string // what stood before it besides blanks
	hash   bool   // a # or a * follows, as one types it at a keypad
	owner  bool   // had a possessive 's
	unit   bool   // money, a time, a number of notes
	glued  bool   // follows a sign without a blank
}

// split cuts a message into words. Figures in any script are figures, and words
// for digits are figures from three on.
func split(text string) []word {
	text = norm.NFKC.String(text)
	var list []word
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !part(r) {
			i += size
			continue
		}
		j := i
		for j < len(text) {
			r, size := utf8.DecodeRuneInString(text[j:])
			if !part(r) && !(strings.ContainsRune("'’", r) && j > i) {
				break
			}
			j += size
		}
		list = append(list, pieces(text, i, j)...)
		i = j
	}
	return spoken(mark(merged(spelt(list))))
}

// speltMost bounds the letters of a word that is spelt out.
const speltMost = 12

// spelt makes one word of three or more letters that stand apart: "s a f e".
func spelt(list []word) []word {
	var out []word
	for i := 0; i < len(list); {
		j, letters := i, ""
		for j < len(list) && j-i < speltMost && len(list[j].text) == 1 &&
			unicode.IsLetter(rune(list[j].text[0])) {
			letters += list[j].text
			j++
		}
		if j-i >= 3 && names[letters] != 0 {
			out = append(out, word{text: letters, typed: letters, sep: list[i].sep})
			i = j
			continue
		}
		out = append(out, list[i])
		i++
	}
	return out
}

// merged makes one word of two that name one thing: a key box, a pass code.
func merged(list []word) []word {
	out := list[:0]
	for _, w := range list {
		if n := len(out); n > 0 && w.sep == "" {
			if one := pairs[out[n-1].text+" "+w.text]; one != "" {
				out[n-1].text = one
				continue
			}
		}
		out = append(out, w)
	}
	return out
}

func part(r rune) bool { return unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsDigit(r) }

// pieces makes a word of text[i:j]; an L or R of a dial is taken off its figure.
func pieces(text string, i, j int) []word {
	s := strings.ToLower(text[i:j])
	w := word{typed: text[i:j], sep: gap(text, i)}
	w.glued = w.sep != "" && !strings.HasSuffix(text[:i], " ") && strings.HasSuffix(text[:i], w.sep) &&
		len(text[:i]) > len(w.sep) && text[i-len(w.sep)-1] != ' '
	for _, end := range []string{"'s", "’s"} {
		if rest, ok := strings.CutSuffix(s, end); ok {
			s, w.owner = rest, true
		}
	}
	s = strings.Trim(s, "'’")
	for _, article := range []string{"l'", "d'", "c'", "l’", "d’", "c’"} {
		s = strings.TrimPrefix(s, article) // of French and Italian
	}
	if k := strings.IndexAny(s, "0123456789"); k > 2 && numeral(s[k:]) != "" && len(s)-k >= 4 &&
		(names[s[:k]] != 0 || compound(s[:k])) {
		name := word{text: s[:k], typed: s[:k], sep: w.sep} // safecode387105
		return []word{name, {text: s[k:], typed: s[k:], digits: numeral(s[k:])}}
	}
	if compound(s) {
		s = "pin" // whatever it opens, it is the code
	}
	w.text, w.digits = s, numeral(s)
	if w.digits == "" {
		if rest := numeral(strings.TrimLeft(s, "lr")); rest != "" && len(s) <= len(rest)+1 && len(rest) <= 2 {
			w.digits, w.text = rest, s
		} else if rest := numeral(strings.TrimRight(s, "lr")); rest != "" && len(s) <= len(rest)+1 &&
			len(rest) <= 2 {
			w.digits, w.text = rest, s
		}
	}
	rest := text[j:]
	w.hash = w.digits != "" && (strings.HasPrefix(rest, "#") || strings.HasPrefix(rest, "*"))
	if w.digits != "" && (strings.HasPrefix(rest, ":") && len(rest) > 1 && rest[1] >= '0' && rest[1] <= '9') {
		w.unit = true // a time
	}
	return []word{w}
}

// compound reports whether a word is made of what is locked and of a word for its
// code, as German makes them: Tresorkombination, Garagencode.
func compound(s string) bool {
	for _, end := range []string{"code", "kombination", "kombi", "pin", "kod", "schloss", "anlage"} {
		head, ok := strings.CutSuffix(s, end)
		if head = strings.TrimSuffix(head, "en"); !ok || len(head) < 3 {
			continue
		}
		if locked[head] || holding[head] || heads[head] || end == "code" && !others[head] && !otherCode[head] {
			return true
		}
	}
	return false
}

// others are what else is made of a word and "code".
var others = set("bar post postal zip qr error fehler fehl err status host promo rabatt uni source quell " +
	"produkt land länder area vor response reason strich ean iban swift bic")

// heads are such words beside those that are locked.
var heads = set("zahlen fahrrad schließfach tresor tür tuer alarm garag keller lager büro buero schrank " +
	"kasse safe door gate haus tor zugangs")

// gap is what stands between a word and the one before, without blanks.
func gap(text string, i int) string {
	j := i
	for j > 0 {
		r, size := utf8.DecodeLastRuneInString(text[:j])
		if part(r) {
			break
		}
		j -= size
	}
	return strings.Join(strings.Fields(text[j:i]), "")
}

// numeral gives the figure in plain digits when a word is nothing else.
func numeral(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r >= '0' && r <= '9':
			b.WriteRune(r)
		case unicode.IsDigit(r):
			zero := r
			for unicode.IsDigit(zero-1) && r-zero < 9 {
				zero--
			}
			b.WriteByte(byte('0' + (r-zero)%10))
		default:
			return ""
		}
	}
	return b.String()
}

// mark notes at each figure whether it is money, a time or a number of notes.
func mark(list []word) []word {
	for i := range list {
		w := &list[i]
		if w.digits == "" {
			continue
		}
		if strings.ContainsAny(w.sep, "€£$¥@+=") && !strings.HasSuffix(w.sep, "=") || strings.HasSuffix(w.sep,
			":") &&
			i > 0 && list[i-1].digits != "" {
			w.unit = true
		}
		if i+1 < len(list) && (units[list[i+1].text] || strings.ContainsAny(list[i+1].sep, "€£$¥")) {
			w.unit = true
		}
		if i > 0 && (list[i-1].text == "x" || units[list[i-1].text]) {
			w.unit = true
		}
	}
	return list
}

// spoken makes a figure of three or more words for digits: "double four one one".
func spoken(list []word) []word {
	var out []word
	for i := 0; i < len(list); {
		digits, j, n := "", i, 0
		for j < len(list) {
			d, times := digitWords[list[j].text], 1
			if ten := tens[list[j].text]; ten != "" {
				d = ten + "0"
				if j+1 < len(list) && len(digitWords[list[j+1].text]) == 1 && digitWords[list[j+1].text] != "0" {
					d = ten + digitWords[list[j+1].text]
					j++
				}
			}
			if t := repeats[list[j].text]; t > 0 && j+1 < len(list) {
				times, d = t, digitWords[list[j+1].text]
				if d != "" {
					j++
				}
			}
			if d == "" {
				break
			}
			digits += strings.Repeat(d, times)
			j++
			n += times
		}
		if n >= 3 {
			out = append(out, word{text: digits, typed: digits, digits: digits, sep: list[i].sep})
			i = j
			continue
		}
		out = append(out, list[i])
		i++
	}
	return out
}

// run is a row of figures.
type run struct {
	list []string
	unit bool // money, a time or a count among them
	date bool // the first three are a day
}

// figures reads the row of figures that begins at a word.
func figures(words []word, at int) run {
	var r run
	first := true
	for i := at; i < len(words) && words[i].digits != ""; i++ {
		if !first && strings.ContainsAny(words[i].sep, "+x×") {
			r.unit = true
		}
		r.list = append(r.list, words[i].digits)
		r.unit = r.unit || words[i].unit
		first = false
	}
	if len(r.list) >= 2 {
		r.date = date(r.list)
	}
	return r
}

// date says that figures begin with a day of a month, with or without its year.
func date(list []string) bool {
	if len(list) == 2 {
		return inRange(list[0], 1, 31) && inRange(list[1], 1, 12)
	}
	year := func(s string) bool { return len(s) == 4 && (s[:2] == "20" || s[:2] == "19") || inRange(s, 20, 39) }
	a, b, c := list[0], list[1], list[2]
	return inRange(a, 1, 31) && inRange(b, 1, 12) && year(c) || inRange(a, 1, 12) && inRange(b, 1, 31) &&
		year(c) ||
		year(a) && inRange(b, 1, 12) && inRange(c, 1, 31)
}

func inRange(s string, low, high int) bool {
	n := 0
	for _, r := range s {
		n = 10*n + int(r-'0')
		if n > high {
			return false
		}
	}
	return n >= low && len(s) <= 2
}
