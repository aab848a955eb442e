package counts

import (
	"unicode"
	"unicode/utf8"
)

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
	junkToken     // a sign that has no place in a count
)

// token is a piece of the folded text. spaced tells a blank, a line end or the start before it.
type token struct {
	kind       tokenKind
	start, end int
	spaced     bool
}

// tokensUsual is room for the tokens of a usual message of this length.
func tokensUsual(text string) int { return len(text)/2 + 1 }

// lex cuts folded text into tokens and appends them to dst.
func lex(dst []token, text string) []token {
	spaced := true
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		kind, used := tokenAt(text[i:], r, n)
		if !spaced && listItem(r, dst, text[i+n:]) {
			kind, used = listToken, n
		}
		switch {
		case used > 0:
			dst = append(dst, token{kind, i, i + used, spaced})
			spaced = kind == rowToken
			i += used
			continue
		default:
			_, apostrophe := isFigureSign(r)
			spaced = spaced || !apostrophe || r == groupSpace
		}
		i += n
	}
	return dst
}

// tokenAt gives the kind and length of the token that begins with r; length 0 for blanks and signs that say
// nothing (quotes, brackets, pictures).
func tokenAt(text string, r rune, n int) (kind tokenKind, used int) {
	switch {
	case r >= '0' && r <= '9':
		return figureToken, figureLen(text)
	case unicode.IsLetter(r):
		return wordToken, wordLen(text)
	case isDash(r):
		return dashToken, n
	case unicode.Is(unicode.Sc, r):
		return moneyToken, n
	}
	kind, silent := signKind(r)
	if silent {
		n = 0
	}
	return kind, n
}

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
	return r > 0x7f && unicode.Is(unicode.Pd, r)
}

// figureLen is the length of the run of digits and single figure signs between them.
func figureLen(text string) int {
	end := 0
	for i, r := range text {
		if r >= '0' && r <= '9' {
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

// listItem recognizes the ")" or "." behind the number of a list item, with a blank and a digit after it. A full
// stop counts only behind the first number of a row.
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
