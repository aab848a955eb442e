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

// tokensUsual is room for the tokens of a usual message without going to the heap.
const tokensUsual = 48

// lex cuts folded text into tokens and appends them to dst.
func lex(dst []token, text string) []token {
	spaced := true
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		kind, used := tokenAt(text[i:], r, n)
		switch {
		case used > 0:
			if r == '.' || r == ')' {
				kind = listItem(kind, dst, text[i+used:], spaced)
			}
			dst = append(dst, token{kind, i, i + used, spaced})
			spaced = kind == rowToken
			i += used
			continue
		case r == ' ' || r == groupSpace:
			spaced = true
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
	case ' ', groupSpace, '(', '[', ']', '"', '“', '”', '„', '_', '`':
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
	case ',', ';', '.', '!', '|', '•', '·', '…', '&', ')':
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

// isDash tells every dash and minus sign people's keyboards make.
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

// listItem turns the "." or ")" after the first number of a row, with a blank and a digit after it, into the
// sign of a numbered list.
func listItem(kind tokenKind, before []token, after string, spaced bool) tokenKind {
	n := len(before)
	if spaced || n == 0 || before[n-1].kind != figureToken {
		return kind
	}
	if n > 1 && before[n-2].kind != rowToken {
		return kind
	}
	if len(after) < 2 || after[0] != ' ' || !isDigit(after[1]) {
		return kind
	}
	return listToken
}
