package counts

import "strconv"

// maxScale and maxAmountDigits keep every product below 10^18, inside an int64.
const (
	maxScale        = 3
	maxAmountDigits = 12
)

// decimal is units / 10^scale with no zero at the end of the fraction, so equal values are equal structs.
type decimal struct {
	units int64
	scale uint8
}

func whole(n int64) decimal { return decimal{units: n} }

// makeDecimal reads digits before and after the decimal sign; ok is false when they are too many.
func makeDecimal(before, after string) (d decimal, code Code) {
	for len(before) > 1 && before[0] == '0' {
		before = before[1:]
	}
	for after != "" && after[len(after)-1] == '0' {
		after = after[:len(after)-1]
	}
	if len(before) > maxAmountDigits {
		return d, TooBig
	}
	if len(after) > maxScale {
		return d, Fraction
	}
	for _, part := range [2]string{before, after} {
		for i := range len(part) {
			d.units = d.units*10 + int64(part[i]-'0')
		}
	}
	d.scale = uint8(len(after))
	return d, OK
}

// parseFace reads the canonical text of a face value; ok is false for anything else and for zero.
func parseFace(s string) (d decimal, ok bool) {
	before, after, point := s, "", false
	for i := range len(s) {
		switch c := s[i]; {
		case c == '.' && !point:
			before, after, point = s[:i], s[i+1:], true
		case c < '0' || c > '9':
			return d, false
		}
	}
	if before == "" || (point && after == "") {
		return d, false
	}
	d, code := makeDecimal(before, after)
	return d, code == OK && d.units > 0
}

func (d decimal) isWhole() bool { return d.scale == 0 }

// String is the canonical text: "3000", "0.5".
func (d decimal) String() string {
	s := strconv.FormatInt(d.units, 10)
	if d.scale == 0 {
		return s
	}
	for len(s) <= int(d.scale) {
		s = "0" + s
	}
	cut := len(s) - int(d.scale)
	return s[:cut] + "." + s[cut:]
}

// notesOf is how many notes of the face make the amount; ok is false if no whole number does.
func (d decimal) notesOf(face decimal) (notes int64, ok bool) {
	a, f := d.units, face.units
	for range maxScale - d.scale {
		a *= 10
	}
	for range maxScale - face.scale {
		f *= 10
	}
	if f == 0 || a%f != 0 {
		return 0, false
	}
	return a / f, true
}
