package counts_test

import (
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

// How the digits of one number are read, for a single box without a name.
func TestParseOneNumber(t *testing.T) {
	req := counts.Request{Lines: []counts.Line{{Face: "20"}}}
	runCases(t, req, []parseCase{
		{"150", "0=150"}, {" 150. ", "0=150"}, {"0", "0=0"}, {"007", "0=7"}, {"-", "0=0"}, {"+5", "0=5"},
		{"1,500", "0=1500"}, {"1.500", "0=1500"}, {"1'500", "0=1500"}, {"1’500", "0=1500"},
		{"1\u202f500", "0=1500"}, {"1,00,000", "0=100000"}, {"9999999", "0=9999999"},
		{"٢٠٠", "0=200"}, {"١٬٥٠٠", "0=1500"}, {"२००", "0=200"}, {"１５０", "0=150"}, {"ten", "0=10"},
		{"10000000", "too big"}, {strings.Repeat("9", 40), "too big"},
		{"-5", "negative"}, {"− 5", "negative"}, {"–5", "negative"},
		{"1.5", "fraction"}, {"150,5", "fraction"}, {"0,500", "fraction"}, {"١٫٥", "fraction"},
		{"1.00", "fraction"}, {"1.23456", "fraction"}, {".5", "0=5"},
		{"", "empty"}, {" . ", "empty"}, {strings.Repeat("1", 501), "too long"},
		{"1e3", "unreadable"}, {"0x10", "unknown face"}, {"20²", "unreadable"},
		{"1 500", "0=1500"}, {"1,,500", "too many"}, {"1,50,00", "unreadable"}, {"12'50", "unreadable"},
		{"1\u00a050", "unreadable"}, {"1,500'000", "unreadable"},
		{"1" + strings.Repeat(",1", 20), "unreadable"},
	})
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
		{"", 2, "", counts.Empty}, {strings.Repeat("7", 12), 2, strings.Repeat("7", 12), counts.OK},
		{strings.Repeat("7", 13), 2, "", counts.TooBig},
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
