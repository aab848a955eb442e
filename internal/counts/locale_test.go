package counts_test

import (
	"testing"

	"shopfloat/internal/counts"
)

func TestParseDollars(t *testing.T) {
	req := counts.Request{Currency: "USD", MinorDigits: 2, Lines: []counts.Line{
		{Face: "100", Position: 1, Bundle: 100}, {Face: "20", Position: 2, Bundle: 100},
		{Face: "5", Position: 3}, {Face: "1", Position: 4, Bundle: 100},
	}}
	runCases(t, req, []parseCase{
		{"1: 40", "3=40"}, {"1) 40", "0=40"}, {"box 1: 40", "0=40"}, {"ones 40", "3=40"},
		{"one hundred", "0=100"},
		{"2 hundreds", "0=2"}, {"two hundreds", "0=2"},
		{"5 hundreds 3 twenties 2 fives 7 ones", "0=5 1=3 2=2 3=7"},
		{"7 hundred dollar bills", "0=7"}, {"$100 bills 7", "0=7"}, {"a one", "3=1"}, {"5s 1b", "no bundle"},
		{"100 5 20 6 5 7 1 8", "0=5 1=6 2=7 3=8"}, {"20x1,500", "1=1500"}, {"1,500x1", "3=1500"},
		{"$40 in ones", "3=40(40)"},
		{"100 20 100 30", "0=100 1=20 2=100 3=30"}, {"5 1\n5 2", "0=5 1=1 2=5 3=2"},
		{"5 1 1\n7", "0=5 1=1 2=1 3=7"},
		{"5 1\n1 7", "2=1 3=7"}, {"5 1 1 7", "0=5 1=1 2=1 3=7"}, {"€40 in ones", "other currency"},
		{"a thousand and five", "0=1005"}, {"one thousand one hundred twenty five", "0=1125"},
		{"two hundred thousand, 4", "0=200000 1=4 too few"}, {"two hundred hundred", "0=200 1=100 too few"},
		{"3 straps of twenties", "1=300"}, {"hundred and 5", "0=100 1=5 too few"},
	})
}

func TestParseUnusualFaces(t *testing.T) {
	req := counts.Request{Currency: "EUR", MinorDigits: 2, Lines: []counts.Line{
		{Face: "200", Position: 1}, {Face: "100", Position: 2}, {Face: "0.5", Position: 3},
		{Face: "1e2", Position: 4},
		{Face: ".5", Position: 5}, {Face: "1.2345"}, {Face: ""}, {Face: "5."},
	}}
	runCases(t, req, []parseCase{
		{"two hundreds 5", "0=5"}, {"5 two hundreds", "0=5"}, {"two hundreds: 5", "0=5"},
		{"two hundreds", "1=2"},
		{"two 5", "0=2 1=5 too few"}, {"five two hundreds and 3 hundreds", "0=5 1=3"},
		{"two twenties", "unknown face"},
		{"0.5x100", "2=100"}, {"0,5x100", "2=100"}, {"0.50: 100", "2=100"}, {"€0.50 100", "2=100"},
		{"100 x €0.50", "2=100"},
		{"€50 in 0.5", "2=100(50)"}, {"€0.25 in 0.50", "not whole"}, {"€5000000 in 0.5", "too big"},
		{"0.5s 4", "2=4"},
		{"box 5 3", "4=3"}, {"€9 in box 4", "not whole"}, {"€0.001 in 0.5", "fraction"},
	})
}

func TestParseYen(t *testing.T) {
	req := counts.Request{Currency: "JPY", Lines: []counts.Line{
		{Face: "10000", Position: 1}, {Face: "5000", Position: 2}, {Face: "1000", Position: 3},
	}}
	runCases(t, req, []parseCase{
		{"10,000x5", "0=5"}, {"10,000s 5", "0=5"}, {"5,000: 3, 1,000: 7", "1=3 2=7"}, {"5 thousands", "2=5"},
		{"¥30,000 in 1000s", "2=30(30000)"}, {"30000 JPY in 1000s", "2=30(30000)"}, {"１０００×５", "2=5"},
		{"10k 5", "1=5 unreadable"},
	})
}

func TestParseThreeDecimals(t *testing.T) {
	req := counts.Request{Currency: "KWD", MinorDigits: 3, Values: true}
	req.Lines = []counts.Line{{Face: "20", Position: 1}}
	runCases(t, req, []parseCase{
		{"1800.000", "0=90(1800)"}, {"1,800.000", "0=90(1800)"}, {"1,800", "0=1800"},
		{"KWD 1800", "0=90(1800)"},
		{"1800 kwd", "0=90(1800)"}, {"1.800", "not whole"}, {"٣٠٠٠٫٠٠٠", "0=150(3000)"},
		{"1 800", "0=1800"},
	})
}

// A slip of the tongue of the keyboard must never become a count of another box.
func TestParseDoubtful(t *testing.T) {
	runCases(t, shop(), []parseCase{
		{"20s 1 500", "too many"}, {"1 500 twenties", "too many"}, {"20s 150 -5", "1=150 negative"},
		{"20x150x10", "too many"},
		{"top, 40", "0=40"}, {"top.40", "0=40"}, {"50s\n40\n20s\n150", "0=40 1=150"},
		{"20s, 40 50s", "0=40 no count"},
		{"20s, 7 tens, 3", "2=7 no count"}, {"3 €100", "unknown face"},
		{"150 €20: 3", "too many"}, {"€100: 3", "unknown face"},
		{"$20: 4", "other currency"},
		{"€100 3", "unknown face"}, {"€3k in 20s", "unreadable"}, {"1_000", "unreadable"},
		{"50%", "unreadable"}, {"~150", "unreadable"},
		{"b", "unreadable prose"}, {"all 100", "unreadable"}, {"2 two hundreds", "unknown face"},
		{"12.05.2026", "unreadable"},
		{"- 40\n- 150\n- 200", "0=40 1=150 2=200"}, {"- 40\n150", "1=150 negative"},
		{"1) 40 2) 150 3) 200", "0=40 1=150 2=200"},
		{"20s:1,500,10s:200", "1=1500 2=200"}, {"box-2 150", "1=150"}, {"box 20: 150", "1=150"},
		{"box 20s: 150", "1=150"},
		{"top (50s): 40, middle (20s): 150", "0=40 1=150"}, {"sixth 4", "unreadable prose"},
		{"4th 4", "unreadable prose"},
		{"150 = twenties", "1=150"}, {"150 x middle", "1=150"}, {"20s 1b + 40 tens", "1=100 2=40"},
		{"20s: -", "1=0"},
		{"20s 2b and 40 in bottom", "1=200 2=40"}, {"20s 2b and 40 10s 5", "1=240 2=5"},
		{"two bundles forty", "0=240"},
		{"1+1+1+1+1+1+1+1+1", "too many"}, {"9999999b", "too big"}, {"9999999b+1b", "too big"},
		{"8/5", "0=8 1=5 too few"}, {"€20s 150", "1=150"}, {"12345678b", "too big"},
		{"1/2/3", "0=1 1=2 2=3"}, {"150/200/", "0=150 1=200 too few"}, {"€20 euro", "not whole"},
		{"€", "empty"},
		{"€-5 in 20s", "negative"}, {"total", "unreadable prose"}, {"40 150 200 total", "0=40 1=150 2=200"},
		{"total $3000", "other currency"}, {"total 3000.505", "fraction"},
		{"3000 in total", "total 3000 total only"},
		{"bo 3", "unreadable prose"}, {"what is the total 3000", "unreadable prose"},
		{"50 40 50 30", "too many"},
	})
}

func TestParseNames(t *testing.T) {
	req := counts.Request{Lines: []counts.Line{
		{Face: "50", Position: 1, Name: "left"}, {Face: "20", Position: 2, Name: "left side"},
		{Face: "20", Position: 3, Name: "B"},
		{Face: "10", Position: 4, Name: "Größe"}, {Face: "5", Position: 5, Name: "lefty"},
	}}
	runCases(t, req, []parseCase{
		{"left 1, left side 2, b 3", "0=1 1=2 2=3"}, {"größe 4", "3=4"}, {"lef 4", "unreadable prose"},
		{"leftovers 4", "unreadable prose"},
		{"grö 7", "3=7"}, {"lefty 4", "4=4"}, {"$5: 3", "4=3"},
	})
}

func TestParseNoLines(t *testing.T) {
	runCases(t, counts.Request{ZeroAll: true}, []parseCase{
		{"1", "too many"}, {"0", "too many"}, {"20s 5", "unknown face"}, {"total 5", "total 5 total only"},
	})
}
