package counts

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// notesOfFigure is the figure as a count of notes.
func notesOfFigure(f figure) (int64, Code) {
	switch {
	case f.code != OK:
		return 0, f.code
	case f.decimals > 0:
		return 0, Fraction
	case f.whole > MaxNotes:
		return 0, TooBig
	}
	return f.whole, OK
}

// ParseAmount reads one amount of money, at most 12 digits before the decimal sign, with a currency sign or
// name before or after it if any (which currency is not checked). minorDigits is the number of decimals of
// the currency by ISO 4217, 0 to 3. The result is canonical decimal text without zeros at the end: "7000",
// "0.5". "7.000" and "7,000" are seven thousand; with three decimals "7.000" is seven. Refused with Empty,
// TooLong, Negative, Fraction (finer than minorDigits), TooBig or Unreadable.
func ParseAmount(text string, minorDigits int) (string, Code) {
	text, code := trim(text)
	if code != OK {
		return "", code
	}
	bare := trimCurrency(text)
	if isNegative(text) || isNegative(bare) {
		return "", Negative
	}
	if !isRun(bare) {
		return "", Unreadable
	}
	f := readFigure(bare, minorDigits >= maxDecimals)
	if f.tooFine(minorDigits) {
		f.code = Fraction
	}
	if f.code != OK {
		return "", f.code
	}
	return f.amount().String(), OK
}

// tooFine recognizes an amount with more decimals than the currency has.
func (f figure) tooFine(minorDigits int) bool {
	return f.code == OK && f.decimals > max(minorDigits, 0)
}

func trim(text string) (string, Code) {
	if tooLong(text) {
		return "", TooLong
	}
	text = strings.TrimFunc(Fold(text), unicode.IsSpace)
	text = strings.TrimRight(text, ".! \n\u00a0")
	if text == "" {
		return "", Empty
	}
	return text, OK
}

func tooLong(text string) bool {
	return len(text) > MaxRunes && utf8.RuneCountInString(text) > MaxRunes
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// isNegative recognizes a dash, blanks and a digit at the start.
func isNegative(s string) bool {
	r, n := utf8.DecodeRuneInString(s)
	if !isDash(r) {
		return false
	}
	s = strings.TrimLeftFunc(trimCurrency(s[n:]), unicode.IsSpace)
	return s != "" && isDigit(s[0])
}

// isRun recognizes digits with single figure signs between them.
func isRun(s string) bool {
	sign := true
	for _, r := range s {
		_, isSign := isFigureSign(r)
		if !isSign && (r < '0' || r > '9') || (isSign && sign) {
			return false
		}
		sign = isSign
	}
	return !sign
}

// trimCurrency takes one currency sign or name off either end.
func trimCurrency(s string) string {
	s = strings.TrimFunc(s, unicode.IsSpace)
	if cut := strings.TrimLeftFunc(s, isMoneyRune); cut != s {
		if _, known := currencyOf(strings.TrimSpace(s[:len(s)-len(cut)])); known {
			return strings.TrimFunc(cut, unicode.IsSpace)
		}
	}
	if cut := strings.TrimRightFunc(s, isMoneyRune); cut != s {
		if _, known := currencyOf(strings.TrimSpace(s[len(cut):])); known {
			return strings.TrimFunc(cut, unicode.IsSpace)
		}
	}
	return s
}

func isMoneyRune(r rune) bool { return unicode.IsLetter(r) || unicode.Is(unicode.Sc, r) }
