package guides

import "strings"

// Bounds of a telephone number in digits. E.164 allows 15; short numbers of
// police and providers have three.
const digitsMin, digitsMax = 3, 15

// PhoneNumber reads a telephone number and writes it with single blanks.
func PhoneNumber(s string) (number string, ok bool) {
	s = strings.Join(strings.Fields(s), " ")
	digits := 0
	for i, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits++
		case r == '+' && i == 0, strings.ContainsRune(" -/().", r):
		default:
			return "", false
		}
	}
	return s, digits >= digitsMin && digits <= digitsMax
}
