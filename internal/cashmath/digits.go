package cashmath

import "strconv"

// NinesDivisor returns the largest of 999, 99 and 9 that divides a difference, or 0.
// Bookkeeping's rule of nine: two digits exchanged, or a figure slid sideways, leave
// a difference divisible by 9 (neighbouring columns), 99 (two apart) or 999 (three
// apart). One difference in nine is divisible by chance, so the rule is a hint to
// read the figures again and never names a cause.
//
// Source: R. B. Kester, Accounting Theory and Practice, vol. 1, trial balance, item 6.
func NinesDivisor(difference int64) int64 {
	if difference == 0 {
		return 0
	}
	for _, divisor := range []int64{999, 99, 9} {
		if difference%divisor == 0 {
			return divisor
		}
	}
	return 0
}

// Transposition returns how many columns apart two digits were exchanged to turn
// correct into written: 1 for neighbours (150 and 510), 0 if that is not what
// happened. Both figures are counts, from 0 up.
func Transposition(written, correct int64) (columns int) {
	w, c := strconv.FormatInt(written, 10), strconv.FormatInt(correct, 10)
	if len(w) != len(c) {
		return 0
	}
	var differ []int
	for i := range w {
		if w[i] != c[i] {
			differ = append(differ, i)
		}
	}
	if len(differ) != 2 {
		return 0
	}
	left, right := differ[0], differ[1]
	if w[left] != c[right] || w[right] != c[left] {
		return 0
	}
	return right - left
}

// SlideKind says how a figure changed its length.
type SlideKind int

// The ways a figure gains or loses one digit. NoSlide is none of them.
const (
	NoSlide      SlideKind = iota
	ZeroLost               // 150 written as 15
	ZeroAdded              // 150 written as 1500, or 15 as 105
	DigitDropped           // 150 written as 50 or 10
	DigitDoubled           // 150 written as 1150 or 1550
)

// Slide tells whether written is correct with one digit too few or too many, and
// how. Both figures are counts, from 0 to 10^16.
func Slide(written, correct int64) SlideKind {
	for place := int64(1); correct >= 10 && place <= correct; place *= 10 {
		if withoutDigit(correct, place) != written {
			continue
		}
		if place == 1 && correct%10 == 0 {
			return ZeroLost
		}
		return DigitDropped
	}
	for place := int64(1); written >= 10 && place <= written; place *= 10 {
		if withoutDigit(written, place) != correct {
			continue
		}
		digit := written / place % 10
		if digit == 0 {
			return ZeroAdded
		}
		if digit == written/(place*10)%10 {
			return DigitDoubled
		}
	}
	return NoSlide
}

// withoutDigit takes out the digit that stands at place 1, 10, 100 and so on.
func withoutDigit(n, place int64) int64 { return n/(place*10)*place + n%place }
