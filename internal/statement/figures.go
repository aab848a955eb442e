package statement

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
)

// Bounds of an amount: what fits into any bank's books, so that no text makes a
// number that takes all memory.
const (
	maxWhole    = 15 // digits before the point
	maxDecimals = 5  // after it: ISO 20022 gives amounts five
	ofxDecimals = 32 // OFX gives an amount 32 letters and says nothing of decimals (2.2, 3.2.9, as remembered)
)

// exact reads an amount as XML and OFX write it: digits, and a point or comma
// before so many decimals at most. None is cut off or rounded.
func exact(s string, decimals int) (decimal.Decimal, error) {
	t := strings.TrimSpace(s)
	body := strings.TrimLeft(t, "+-")
	if len(t)-len(body) > 1 {
		return decimal.Zero, about(BadAmount, s)
	}
	whole, part, _ := strings.Cut(strings.Replace(body, ",", ".", 1), ".")
	d, ok := figure(whole, part, decimals)
	if !ok {
		return decimal.Zero, about(BadAmount, s)
	}
	if strings.HasPrefix(t, "-") {
		d = d.Neg()
	}
	return d, nil
}

// figure puts digits before and after the point together.
func figure(whole, part string, decimals int) (decimal.Decimal, bool) {
	if whole == "" && part == "" || !digits(whole) || !digits(part) {
		return decimal.Zero, false
	}
	part = strings.TrimRight(part, "0")
	if len(strings.TrimLeft(whole, "0")) > maxWhole || len(part) > decimals {
		return decimal.Zero, false
	}
	if len(whole)+len(part) > maxWhole { // with noughts before it, or with all decimals
		d, err := decimal.NewFromString("0" + whole + "." + part + "0")
		return d, err == nil
	}
	var n int64
	for _, s := range []string{whole, part} {
		for _, c := range []byte(s) {
			n = n*10 + int64(c-'0')
		}
	}
	return decimal.New(n, -int32(len(part))), true
}

func digits(s string) bool {
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// isoDay reads the day at the begin of an ISO 8601 date or instant, as the bank
// wrote it: the day in its books does not change with our zone.
func isoDay(s string) (shop.Date, error) {
	t := strings.TrimSpace(s)
	if len(t) > 10 && strings.ContainsRune("T+-Z ", rune(t[10])) {
		t = t[:10]
	}
	d, err := shop.ParseDate(t)
	if err != nil {
		return "", about(BadDate, s)
	}
	return d, nil
}

// accountName takes blanks out of an account's number.
func accountName(s string) string {
	return clip(strings.ToUpper(strings.Join(strings.Fields(s), "")), 40)
}
