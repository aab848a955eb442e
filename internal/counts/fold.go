package counts

import (
	"strings"
	"unicode"
)

// groupSpace is what every kind of space that must not break a line folds to: people and phones use those
// inside a number, never between two numbers.
const groupSpace = '\u00a0'

// Fold rewrites a text so that the rest of the package meets only one form of each thing: decimal digits of
// any script become 0-9 by their value, full-width signs and letters become ASCII, line ends become "\n", the
// spaces used inside numbers become U+00A0 and all others a plain space. Direction marks, zero-width and
// other control characters and the emoji dressing of keycaps vanish. Superscripts, circled digits and letters
// stay as they are. Fold(Fold(s)) == Fold(s).
func Fold(text string) string {
	if isPlain(text) {
		return text
	}
	var b strings.Builder
	b.Grow(len(text))
	for _, r := range text {
		if f := foldRune(r); f >= 0 {
			b.WriteRune(f)
		}
	}
	return b.String()
}

func isPlain(text string) bool {
	for i := range len(text) {
		if c := text[i]; (c < ' ' && c != '\n') || c >= 0x7f {
			return false
		}
	}
	return true
}

// foldRune returns -1 for a character that is dropped.
func foldRune(r rune) rune {
	switch {
	case r == '\n', r >= ' ' && r < 0x7f:
		return r
	case r == '\r', r == '\u0085', r == '\u2028', r == '\u2029':
		return '\n'
	case r == '\u00a0', r == '\u2007', r == '\u2009', r == '\u202f':
		return groupSpace
	case r == '\t', unicode.Is(unicode.Zs, r):
		return ' '
	case r >= '！' && r <= '～':
		return r - '！' + '!'
	case r >= '\ufe00' && r <= '\ufe0f', r == '\u20e3', unicode.In(r, unicode.Cc, unicode.Cf):
		return -1
	}
	if d := digitValue(r); d >= 0 {
		return '0' + d
	}
	return foldSign(r)
}

// digitValue is the value of a decimal digit of any script, -1 for anything else. Unicode keeps the ten
// digits of a script together and in order, so the place in the range of the table is the value.
func digitValue(r rune) rune {
	for _, t := range unicode.Nd.R16 {
		if r >= rune(t.Lo) && r <= rune(t.Hi) {
			return (r - rune(t.Lo)) % 10
		}
	}
	for _, t := range unicode.Nd.R32 {
		if r >= rune(t.Lo) && r <= rune(t.Hi) {
			return (r - rune(t.Lo)) % 10
		}
	}
	return -1
}

// foldSign maps the list and money signs of other scripts to the ASCII sign, or the sign of the same
// currency.
func foldSign(r rune) rune {
	switch r {
	case '،', '、':
		return ','
	case '؛':
		return ';'
	case '。', '۔':
		return '.'
	case '￥':
		return '¥'
	case '￡':
		return '£'
	}
	return r
}
