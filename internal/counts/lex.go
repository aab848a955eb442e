package counts

import (
	"strings"
	"unicode"
	"unicode/utf8"
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
	return strings.Map(foldRune, text)
}

func isPlain(text string) bool {
	for i := range len(text) {
		if c := text[i]; (c < ' ' && c != '\n') || c >= 0x7f {
			return false
		}
	}
	return true
}

// foldRune folds one character; -1 drops it.
func foldRune(r rune) rune {
	switch r {
	case '\n', '\r', '\u0085', '\u2028', '\u2029':
		return '\n'
	case '\u00a0', '\u2007', '\u2009', '\u202f':
		return groupSpace
	case '\t':
		return ' '
	case '\u20e3':
		return -1
	}
	if unicode.Is(unicode.Zs, r) {
		return ' '
	}
	if r >= '！' && r <= '～' {
		return r - '！' + '!'
	}
	if unicode.In(r, unicode.Cc, unicode.Cf, emojiDressing) {
		return -1
	}
	if unicode.IsDigit(r) {
		return '0' + digitValue(r)
	}
	return foldSign(r)
}

// emojiDressing are the variation selectors.
var emojiDressing = &unicode.RangeTable{R16: []unicode.Range16{{Lo: 0xfe00, Hi: 0xfe0f, Stride: 1}}}

// digitValue is the value of a decimal digit of any script. Unicode keeps the ten digits of a script together
// and in order, so the place in the range of the table is the value; the ranges are in order too.
func digitValue(digit rune) rune {
	for _, t := range unicode.Nd.R16 {
		if digit <= rune(t.Hi) {
			return (digit - rune(t.Lo)) % 10
		}
	}
	for _, t := range unicode.Nd.R32 {
		if digit <= rune(t.Hi) {
			return (digit - rune(t.Lo)) % 10
		}
	}
	return 0
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

type tokenKind uint8

const (
	figureToken tokenKind = iota
	wordToken
	plusToken
	timesToken
	assignToken
	dashToken
	slashToken
	moneyToken    // a currency sign
	commaToken    // , ; and other signs that part one count from the next
	rowToken      // a line end
	hashToken     // # before a box's position
	listToken     // the sign after the number of a list item: "1." "2)"
	questionToken // ?
	partToken     // a half, a quarter
	atToken       // @ before a kind of note
	junkToken     // a sign that has no place in a count
)

// token is a piece of the folded text. spaced tells a blank, a line end or the start before it.
type token struct {
	kind       tokenKind
	spaced     bool
	meaning    meaning // of a word
	start, end int
}

// tokensUsual is room for the tokens of a usual message.
const tokensUsual = 12

// lex cuts folded text into tokens and appends them to dst.
func lex(dst []token, text string) []token {
	spaced := true
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		kind, used := tokenAt(text[i:], r, n)
		if !spaced && listItem(r, dst, text[i+n:]) {
			kind, used = listToken, n
		}
		if used == 0 {
			_, apostrophe := isFigureSign(r)
			spaced = spaced || !apostrophe || r == groupSpace
			i += n
			continue
		}
		dst = append(dst, token{kind: kind, spaced: spaced, start: i, end: i + used})
		if kind == wordToken {
			dst[len(dst)-1].meaning = meaningOf(text[i : i+used])
		}
		spaced = kind == rowToken
		i += used
	}
	return dst
}

// tokenAt gives the kind and length of the token that begins with r; length 0 for blanks and signs that say
// nothing (quotes, brackets, pictures).
func tokenAt(text string, r rune, n int) (kind tokenKind, used int) {
	if isFigureRune(r) {
		return figureToken, figureLen(text)
	}
	if unicode.IsLetter(r) {
		return wordToken, wordLen(text)
	}
	if isDash(r) {
		return dashToken, n
	}
	if unicode.Is(unicode.Sc, r) {
		return moneyToken, n
	}
	kind, silent := signKind(r)
	if silent {
		n = 0
	}
	return kind, n
}

func isFigureRune(r rune) bool { return r >= '0' && r <= '9' }

// signKind classifies a sign that is no digit, letter, dash or currency. silent signs make no token.
func signKind(r rune) (kind tokenKind, silent bool) {
	switch r {
	case ' ', groupSpace, '(', ')', '[', ']', '"', '“', '”', '„', '`':
		return junkToken, true
	case '\n':
		return rowToken, false
	case '+', '➕':
		return plusToken, false
	case '×', '*', '✕', '✖', '⨯', '∗':
		return timesToken, false
	case ':', '=', '→':
		return assignToken, false
	case '@':
		return atToken, false
	case '/', '⁄', '∕', '÷', '➗':
		return slashToken, false
	case ',', ';', '.', '!', '|', '•', '·', '…', '&':
		return commaToken, false
	case '#', '№':
		return hashToken, false
	case '?', '؟':
		return questionToken, false
	case '½', '⅓', '⅔', '¼', '¾', '⅕', '⅛':
		return partToken, false
	}
	if _, apostrophe := isFigureSign(r); apostrophe {
		return junkToken, true
	}
	return junkToken, unicode.In(r, unicode.So, unicode.Sk)
}

// isDash recognizes every dash and minus sign people's keyboards make.
func isDash(r rune) bool {
	switch r {
	case '-', '\u2212', '\u207b', '\u208b', '\u2043', '\u02d7', '➖':
		return true
	}
	return unicode.Is(unicode.Pd, r)
}

// figureLen is the length of the run of digits and single figure signs between them.
func figureLen(text string) int {
	end := 0
	for i, r := range text {
		if isFigureRune(r) {
			end = i + 1
			continue
		}
		if _, ok := isFigureSign(r); !ok || i > end {
			break
		}
	}
	return end
}

// wordLen is the length of the letters, with marks and apostrophes inside the word.
func wordLen(text string) int {
	end := 0
	for i, r := range text {
		if unicode.IsLetter(r) || unicode.IsMark(r) {
			end = i + utf8.RuneLen(r)
			continue
		}
		if r != '\'' && r != '’' || i > end {
			break
		}
	}
	return end
}

// listItem recognizes the ")" or "." behind the number of a list item, with a blank and a digit after it. A
// full stop counts only behind the first number of a row.
func listItem(r rune, before []token, after string) bool {
	n := len(before)
	if (r != '.' && r != ')') || n == 0 || before[n-1].kind != figureToken {
		return false
	}
	if r == '.' && n > 1 && before[n-2].kind != rowToken {
		return false
	}
	return len(after) > 1 && after[0] == ' ' && isDigit(after[1])
}
