package counts_test

import (
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

func TestParseNumber(t *testing.T) {
	for _, c := range []struct {
		text string
		want int64
		code counts.Code
	}{
		{"150", 150, counts.OK}, {" 150. ", 150, counts.OK}, {"0", 0, counts.OK}, {"007", 7, counts.OK},
		{"1,500", 1500, counts.OK}, {"1.500", 1500, counts.OK}, {"1'500", 1500, counts.OK},
		{"1’500", 1500, counts.OK},
		{"1\u202f500", 1500, counts.OK}, {"1,00,000", 100000, counts.OK}, {"9999999", 9_999_999, counts.OK},
		{"٢٠٠", 200, counts.OK}, {"١٬٥٠٠", 1500, counts.OK}, {"२००", 200, counts.OK}, {"１５０", 150, counts.OK},
		{"10000000", 0, counts.TooBig}, {strings.Repeat("9", 40), 0, counts.TooBig},
		{"-5", 0, counts.Negative}, {"− 5", 0, counts.Negative}, {"–5", 0, counts.Negative},
		{"-", 0, counts.Unreadable},
		{"1.5", 0, counts.Fraction}, {"150,5", 0, counts.Fraction}, {"0,500", 0, counts.Fraction},
		{"١٫٥", 0, counts.Fraction},
		{"1.00", 0, counts.Fraction}, {"1.23456", 0, counts.Fraction},
		{"", 0, counts.Empty}, {" . ", 0, counts.Empty}, {strings.Repeat("1", 501), 0, counts.TooLong},
		{"1e3", 0, counts.Unreadable}, {"0x10", 0, counts.Unreadable}, {"+5", 0, counts.Unreadable},
		{".5", 0, counts.Unreadable},
		{"1 500", 0, counts.Unreadable}, {"1,,500", 0, counts.Unreadable}, {"1,50,00", 0, counts.Unreadable},
		{"12'50", 0, counts.Unreadable}, {"1\u00a050", 0, counts.Unreadable},
		{"1,500'000", 0, counts.Unreadable},
		{"20²", 0, counts.Unreadable}, {"ten", 0, counts.Unreadable},
		{"1" + strings.Repeat(",1", 20), 0, counts.Unreadable},
	} {
		if got, code := counts.ParseNumber(c.text); got != c.want || code != c.code {
			t.Errorf("%q = %d %v, want %d %v", c.text, got, code, c.want, c.code)
		}
	}
}

func TestParseAmount(t *testing.T) {
	for _, c := range []struct {
		text  string
		minor int
		want  string
		code  counts.Code
	}{
		{"7000", 2, "7000", counts.OK}, {"7,000.00", 2, "7000", counts.OK},
		{"7.000,00", 2, "7000", counts.OK},
		{"€7000", 2, "7000", counts.OK}, {"7000 €", 2, "7000", counts.OK},
		{"EUR 7,000", 2, "7000", counts.OK},
		{"7000 Euro.", 2, "7000", counts.OK}, {"₺7000", 2, "7000", counts.OK},
		{"7'000.50", 2, "7000.5", counts.OK},
		{"7\u00a0000,50 €", 2, "7000.5", counts.OK}, {"0.05", 2, "0.05", counts.OK}, {"0", 2, "0", counts.OK},
		{"7.000", 2, "7000", counts.OK}, {"7,000", 2, "7000", counts.OK},
		{"7,00,000.00", 2, "700000", counts.OK},
		{"7.000", 3, "7", counts.OK}, {"7,000", 3, "7000", counts.OK},
		{"7,000.125", 3, "7000.125", counts.OK},
		{"٧٬٠٠٠٫٥٠", 2, "7000.5", counts.OK}, {"¥7000", 0, "7000", counts.OK},
		{"7000.5", 2, "7000.5", counts.OK},
		{"7000.50", 0, "", counts.Fraction}, {"7.0055", 2, "", counts.Fraction},
		{"0.005", 2, "", counts.Fraction},
		{"-7", 2, "", counts.Negative}, {"-€7", 2, "", counts.Negative}, {"€-7", 2, "", counts.Negative},
		{"", 2, "", counts.Empty}, {strings.Repeat("7", 13), 2, "", counts.TooBig},
		{strings.Repeat("7", 501), 2, "", counts.TooLong},
		{"7 000", 2, "", counts.Unreadable}, {"7k", 2, "", counts.Unreadable},
		{"€", 2, "", counts.Unreadable},
		{"€€7", 2, "", counts.Unreadable}, {"7 notes", 2, "", counts.Unreadable},
		{"notes 7", 2, "", counts.Unreadable},
	} {
		if got, code := counts.ParseAmount(c.text, c.minor); got != c.want || code != c.code {
			t.Errorf("%q/%d = %q %v, want %q %v", c.text, c.minor, got, code, c.want, c.code)
		}
	}
}

func TestCodeString(t *testing.T) {
	seen := map[string]bool{}
	for c := counts.OK; c <= counts.TotalOnly; c++ {
		if s := c.String(); s == "" || s == "unknown code" || seen[s] {
			t.Errorf("code %d is %q", c, s)
		}
		seen[c.String()] = true
	}
	if got := (counts.TotalOnly + 1).String(); got != "unknown code" {
		t.Errorf("past the end: %q", got)
	}
}
