package counts

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"
)

// Bounds of an amount, in digits.
const (
	maxDecimals  = 3  // after the decimal sign
	maxMoneySize = 12 // before it
)

// arabicDecimal is the decimal sign that goes with Arabic digits; it never groups.
const arabicDecimal = '\u066b'

// maxPieces bounds the pieces of one run of digits; more is no number anybody types.
const maxPieces = 16

// value is a number in thousandths, which is exact for every figure and compares by itself. 0 stands for
// none too: no kind of note is worth nothing.
type value int64

const thousandths = 1000 // 10^maxDecimals

func wholeValue(n int64) value { return value(n * thousandths) }

// amount is the value as money. The decimal library is given numbers and no text: it would take "1e3", ".5"
// and "+250" for amounts.
func (v value) amount() decimal.Decimal { return decimal.New(int64(v), -maxDecimals) }

// text is the canonical text: "3000", "0.5".
func (v value) text() string { return v.amount().String() }

// whole is the value as an integer; ok is false if it has a fraction.
func (v value) whole() (n int64, ok bool) { return int64(v / thousandths), v%thousandths == 0 }

// figure is one run of digits as a number.
type figure struct {
	value    value // 0 where the code is not OK
	decimals int   // digits typed behind a decimal sign, zeros too
	code     Code  // Unreadable, TooBig, or Fraction when finer than maxDecimals
}

// wholeFigure is the figure of a number that was not typed in digits.
func wholeFigure(n int64) figure { return figure{value: wholeValue(n)} }

// run is a run of digits cut at the signs inside it: "1.500,50" is 1 500 50 with the signs . and ,
type run struct {
	n    int
	text [maxPieces]string
	sign [maxPieces]rune // sign[i] stands before text[i]; all apostrophes are '\''
}

// isFigureSign recognizes the signs that may stand between two digits of one number. Apostrophes are given
// back as one kind.
func isFigureSign(r rune) (rune, bool) {
	switch r {
	case ',', '.', groupSpace, arabicDecimal:
		return r, true
	case '\'', '’', '‘', 'ʼ', '´', '`', '′', '\u066c':
		return '\'', true
	}
	return r, false
}

// cutRun cuts a run of folded digits and signs; ok is false when there are too many pieces.
func cutRun(s string) (p run, ok bool) {
	start := 0
	for i, r := range s {
		sign, isSign := isFigureSign(r)
		if !isSign {
			continue
		}
		if p.n+1 >= maxPieces {
			return p, false
		}
		p.text[p.n] = s[start:i]
		p.n++
		p.sign[p.n] = sign
		start = i + utf8.RuneLen(r)
	}
	p.text[p.n] = s[start:]
	p.n++
	return p, true
}

// parseFigure reads a run of digits as one number. With pointIsDecimal a single full stop before three digits
// is a decimal sign, as currencies of three decimals print it; otherwise it groups thousands.
func parseFigure(s string, pointIsDecimal bool) figure {
	p, ok := cutRun(s)
	if !ok {
		return figure{code: Unreadable}
	}
	if p.n == 1 {
		return makeFigure(s, "")
	}
	last := p.n - 1
	if p.grouped(p.n) && !(pointIsDecimal && p.n == 2 && p.sign[1] == '.') {
		return makeFigure(strings.Join(p.text[:p.n], ""), "")
	}
	if sign := p.sign[last]; sign == '\'' || sign == groupSpace {
		return figure{code: Unreadable}
	}
	if p.n > 2 && (p.sign[last] == p.sign[1] || !p.grouped(last)) {
		return figure{code: Unreadable}
	}
	return makeFigure(strings.Join(p.text[:last], ""), p.text[last])
}

// makeFigure reads the digits before and after a decimal sign, of which there may be none.
func makeFigure(before, after string) figure {
	f := figure{decimals: len(after)}
	before, after = strings.TrimLeft(before, "0"), strings.TrimRight(after, "0")
	if len(before) > maxMoneySize {
		f.code = TooBig
		return f
	}
	if len(after) > maxDecimals {
		f.code = Fraction
		return f
	}
	f.value = wholeValue(digitsOf(before))
	place := value(thousandths)
	for i := range len(after) {
		place /= 10
		f.value += place * value(after[i]-'0')
	}
	return f
}

// digitsOf is the number of at most 18 digits.
func digitsOf(s string) (n int64) {
	for i := range len(s) {
		n = n*10 + int64(s[i]-'0')
	}
	return n
}

// parseFace reads the value of a kind of note, 0 for what is no number.
func parseFace(s string) value {
	before, after, point := strings.Cut(s, ".")
	if before == "" || point && after == "" || !isDigits(before) || !isDigits(after) {
		return 0
	}
	return makeFigure(before, after).value
}

// grouped reports whether the first n pieces are one number with thousands signs: 1,500 1.500.000 1'500, or
// 1,00,000 the Indian way.
func (p *run) grouped(n int) bool {
	sign := p.sign[1]
	if n < 2 || sign == arabicDecimal || len(p.text[0]) > 3 || p.text[0][0] == '0' || len(p.text[n-1]) != 3 {
		return false
	}
	width := len(p.text[1]) // of the groups in the middle
	for i := 1; i < n; i++ {
		if p.sign[i] != sign || (i < n-1 && len(p.text[i]) != width) {
			return false
		}
	}
	return width == 3 || (width == 2 && sign == ',' && len(p.text[0]) <= 2)
}

// list reports whether the run may be a list typed without spaces: 150,200,40. A piece that begins with a
// zero (1,000) belongs to a number.
func (p *run) list() bool {
	for i := range p.n {
		if i > 0 && p.sign[i] != ',' && p.sign[i] != groupSpace && !(p.sign[i] == '.' && p.n > 2) {
			return false
		}
		if len(p.text[i]) > 1 && p.text[i][0] == '0' {
			return false
		}
	}
	return p.n > 1
}

// notes is the figure as a count of notes.
func (f figure) notes() (int64, Code) {
	if f.code != OK {
		return 0, f.code
	}
	if f.decimals > 0 {
		return 0, Fraction
	}
	if f.value > wholeValue(MaxNotes) {
		return 0, TooBig
	}
	n, _ := f.value.whole()
	return n, OK
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
	f := parseFigure(bare, minorDigits >= maxDecimals)
	if f.tooFine(minorDigits) {
		f.code = Fraction
	}
	if f.code != OK {
		return "", f.code
	}
	return f.value.text(), OK
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

func tooLong(text string) bool { return utf8.RuneCountInString(text) > MaxRunes }

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isDigits(s string) bool { return s == "" || Digits(s) }

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
		if isSign && sign || !isSign && !isFigureRune(r) {
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
