package when

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"shopfloat/internal/counts"
)

type kind uint8

const (
	none kind = iota // past the end
	number
	word
	sign
)

// token is a number, a word or a single sign of a text.
type token struct {
	kind  kind
	text  string // folded, in small letters
	glued bool   // nothing stands between it and the one before
	end   int    // where it ends in the text as it was typed, in bytes
}

// lex cuts a text into numbers, words and signs. Digits of any script are 0-9,
// dashes of any length "-", and characters that do not show are left out.
func lex(s string) []token {
	var list []token
	glued := false
	for end := 0; end < len(s); {
		r, size := utf8.DecodeRuneInString(s[end:])
		end += size
		for _, f := range fold(r) {
			k := kindOf(f)
			if k == none {
				glued = false
				continue
			}
			n := len(list)
			if glued && list[n-1].kind == k && k != sign {
				list[n-1].text += plain(f)
				list[n-1].end = end
				continue
			}
			list = append(list, token{kind: k, text: plain(f), glued: glued, end: end})
			glued = true
		}
	}
	return list
}

func fold(r rune) string {
	if r >= ' ' && r < utf8.RuneSelf {
		return string(unicode.ToLower(r))
	}
	return counts.Fold(strings.ToLower(string(r)))
}

// kindOf gives none for what sets words apart.
func kindOf(r rune) kind {
	if r >= '0' && r <= '9' {
		return number
	}
	if r == '\'' || r == '’' || unicode.IsLetter(r) || unicode.IsMark(r) {
		return word
	}
	if unicode.IsSpace(r) {
		return none
	}
	return sign
}

func plain(r rune) string {
	switch r {
	case '–', '—', '‐', '‑', '−':
		return "-"
	case '’':
		return "'"
	}
	return string(r)
}

// scan is a text under way.
type scan struct {
	Reader
	src    string
	toks   []token
	dashes bool // 24-12 is a day: no span of days can stand here
}

func (r Reader) scan(s string) *scan { return &scan{Reader: r, src: s, toks: lex(s)} }

func (s *scan) at(i int) token {
	if i < len(s.toks) {
		return s.toks[i]
	}
	return token{}
}

// phrase gives how many tokens at a place are one of some phrases; the longest wins.
func (s *scan) phrase(i int, list []string) int {
	best := 0
	for _, p := range list {
		n := 0
		for w := range strings.SplitSeq(p, " ") {
			if s.at(i+n).text != w {
				n = 0
				break
			}
			n++
		}
		best = max(best, n)
	}
	return best
}

// sticks reports whether a token is this sign and stands close to the one before.
func (s *scan) sticks(i int, text string) bool {
	t := s.at(i)
	return t.glued && t.text == text
}

// follows reports whether a token is of a kind and stands close to the one before.
func (s *scan) follows(i int, k kind) bool { return s.at(i).glued && s.at(i).kind == k }

// skip passes over one sign of some.
func (s *scan) skip(i int, signs string) int {
	if t := s.at(i); t.kind == sign && strings.Contains(signs, t.text) {
		return i + 1
	}
	return i
}

// done reports whether nothing but a full stop or the like is left.
func (s *scan) done(i int) bool { return s.rest(i) == "" }

// rest is the text from a token on as it was typed, without the signs around it.
func (s *scan) rest(i int) string {
	if i >= len(s.toks) {
		return "" // what does not show may be left
	}
	from := 0
	if i > 0 {
		from = s.toks[i-1].end
	}
	return strings.TrimFunc(s.src[from:], func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune(",.!", r)
	})
}

// figure is the number of a token with so many digits at most; -1 for none.
func (s *scan) figure(i, digits int) int {
	t := s.at(i)
	if t.kind != number || len(t.text) > digits {
		return -1
	}
	n := 0
	for _, d := range t.text {
		n = 10*n + int(d-'0')
	}
	return n
}
