package counts

import (
	"strconv"
	"strings"
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

// figure is one run of digits as a number: canonical text, as faces are compared, and an integer, as notes are
// counted. Both are zero for the number 0 and where the code is not OK.
type figure struct {
	text     string // "1500", "0.5": no zeros around it, no signs but a full stop inside
	whole    int64  // 1500; 0 if there is a fraction
	decimals int    // digits typed behind a decimal sign, zeros too
	code     Code   // Unreadable, TooBig, or Fraction when finer than maxDecimals
}

// wholeFigure is the figure of a number that was not typed in digits.
func wholeFigure(n int64) figure { return figure{text: strconv.FormatInt(n, 10), whole: n} }

// amount is the figure as money. Its text may be given to the decimal library, a typed text never: that would
// take "1e3" and ".5" as well.
func (f figure) amount() decimal.Decimal {
	d, err := decimal.NewFromString(f.text)
	if err != nil {
		return decimal.Zero // the figure is zero or refused: it has no text
	}
	return d
}

// run is a run of digits cut at the signs inside it: "1.500,50" is 1 500 50 with the signs . and ,
type run struct {
	n    int
	text [maxPieces]string
	sign [maxPieces]rune // sign[i] stands before text[i]; all apostrophes are '\''
}

// isFigureSign recognizes the signs that may stand between two digits of one number. Apostrophes are given back as
// one kind.
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

// readFigure reads a run of digits as one number. With pointIsDecimal a single full stop before three digits
// is a decimal sign, as currencies of three decimals print it; otherwise it groups thousands.
func readFigure(s string, pointIsDecimal bool) figure {
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
	switch {
	case len(before) > maxMoneySize:
		f.code = TooBig
	case len(after) > maxDecimals:
		f.code = Fraction
	case after == "":
		f.text = before
		for i := range len(before) {
			f.whole = f.whole*10 + int64(before[i]-'0')
		}
	case before == "":
		f.text = "0." + after
	default:
		f.text = before + "." + after
	}
	return f
}

// canonicalFace is the text of a note's value as figures have it, empty for zero and for what is no number.
func canonicalFace(s string) string {
	before, after, point := strings.Cut(s, ".")
	if before == "" || point && after == "" || !isDigits(before) || !isDigits(after) {
		return ""
	}
	return makeFigure(before, after).text
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

// list reports whether the run may be a list typed without spaces: 150,200,40. A piece that begins with a zero
// (1,000) belongs to a number.
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
