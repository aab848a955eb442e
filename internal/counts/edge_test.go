package counts_test

import (
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

// requestOf asks for boxes in order: each a face with a name behind a slash, bundles of 100.
func requestOf(lines ...string) counts.Request {
	req := counts.Request{Currency: "EUR", MinorDigits: 2}
	for i, line := range lines {
		face, name, _ := strings.Cut(line, "/")
		req.Lines = append(req.Lines, counts.Line{Face: face, Position: i + 1, Name: name, Bundle: 100})
	}
	return req
}

// The largest number that is still read, and the first that is not.
func TestBounds(t *testing.T) {
	runCases(t, counts.Request{Lines: []counts.Line{{Face: "1", Bundle: 1}}, Currency: "EUR"}, []parseCase{
		{"9999999", "0=9999999"}, {"10000000", "too big"},
		{"9999999b", "0=9999999"}, {"10000000b", "too big"}, {"9999999b+1b", "too big"},
		{"9999998b+1b", "0=9999999"}, {"9999998b+1", "0=9999999"}, {"9999998b+2", "too big"},
		{"9999999+0", "0=9999999"}, {"9999998+1", "0=9999999"}, {"9999999+1", "too big"},
		{"€9999999", "0=9999999(9999999)"}, {"€10000000", "too big"},
		{"€999999999999", "too big"}, {"€1000000000000", "too big"}, {"0b", "0=0"},
		{"1+1+1+1+1+1+1+1", "0=8"}, {"1+1+1+1+1+1+1+1+1", "too many"}, {"all 100", "0=100"},
	})
	runCases(t, requestOf("20"), []parseCase{
		{"99999b+99", "0=9999999"}, {"99999b+100", "too big"}, {"99999b", "0=9999900"},
		{"100000b", "too big"},
	})
	blanks := strings.Repeat("\u00a0", counts.MaxRunes-2)
	runCases(t, requestOf("20"), []parseCase{
		{"40" + blanks, "0=40"}, {"405" + blanks, "too long"}, {strings.Repeat("7", 500), "too big"},
	})
}

// Signs inside a number: thousands, lists, and what is neither.
func TestSignsInNumbers(t *testing.T) {
	runCases(t, requestOf("20"), []parseCase{
		{"100,000", "0=100000"}, {"1000,000", "fraction"}, {"10,00,000", "0=1000000"},
		{"100,00,000", "unreadable"}, {"100.00.000", "unreadable"}, {"10.00.000", "unreadable"},
		{"1,00,00", "unreadable"}, {"1,000,00", "unreadable"}, {"1,0000,000", "unreadable"},
		{"1.000,000.000", "unreadable"}, {"1.000.000,5", "fraction"}, {"1'000.5", "fraction"},
	})
	runCases(t, shop(), []parseCase{
		{"0,5,7", "0=0 1=5 2=7"}, {"12345x20", "1=12345"}, {"20s 150,200\n10s 3", "1=150200 2=3"},
		{"1,500,20x150", "0=1500 1=150"}, {"1,500\u00a020x150", "0=1500 1=150"},
		{"7,8,20x150", "0=7 twice"}, {"7,20x150", "0=7 1=150"}, {"100 000", "0=100000"},
		{"1 500 2 500 3 500", "0=1500 1=2500 2=3500"}, {"40 1 900 200", "0=40 1=1900 2=200"},
		{"1) 90 2) 5", "0=90 1=5"}, {"12'k", "unreadable"}, {"12\u00a0k", "unreadable prose"},
		{"1e3b", "unreadable"}, {"1/10", "fraction"}, {"1/11", "0=1 1=11 too few"},
		{"5/5", "0=5 1=5 too few"}, {"top 1/2", "fraction"}, {"1/2/3/4", "too many"},
	})
	runCases(t, requestOf("20", "500"), []parseCase{{"1,500x3", "0=1 1=3"}})
	amounts := shop()
	amounts.Values = true
	runCases(t, amounts, []parseCase{
		{"1850,50", "not whole"}, {"1000 €, 200 €", "0=20(1000) 1=10(200) too few"},
		{"150 €10", "0=150 not whole"}, {"1/0.5", "fraction"}, {"0.5/0.7", "fraction"},
	})
}

// A plain blank groups thousands among as many numbers as a person types, and not among more.
func TestSpacedThousandsOfManyBoxes(t *testing.T) {
	text := func(boxes int) string { return strings.Repeat("7 ", boxes-1) + "1 500" }
	faces := strings.Split("1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16", " ")
	res := counts.Parse(text(15), requestOf(faces[:15]...))
	if res.Problem != nil || len(res.Items) != 15 || res.Items[14].Notes != 1500 {
		t.Errorf("15 boxes: %s", show(res))
	}
	if got := show(counts.Parse(text(16), requestOf(faces...))); got != "too many" {
		t.Errorf("16 boxes: %s", got)
	}
}

// Which line a bare number answers after a key, and when it answers none.
func TestBareAfterKey(t *testing.T) {
	runCases(t, shop(), []parseCase{
		{"top 40, 7", "0=40 1=7"}, {"50s 40, 150, 200", "0=40 1=150 2=200"}, {"box 2: 5, 7", "1=5 2=7"},
		{"10s / 40", "no count"}, {"30s 7, 5", "unknown face"}, {"tens 2, 5, 6", "2=2 too many"},
		{"top middle 5", "1=5 no count"}, {"20s 5 / top 6, 7", "0=6 1=5 too many"},
		{"20:", "0=20"}, {"20 x", "0=20"}, {"€20:", "not whole"}, {"5:", "0=5"}, {"20s:", "no count"},
		{"7: / 5", "0=7 1=5 too few"}, {"30: -", "unknown face"}, {"30: foo", "unreadable prose"},
	})
	runCases(t, requestOf("20/top", "10/middle", "20/bottom"), []parseCase{
		{"20x1, 5, 20x2", "0=1 1=5 2=2"}, {"20s 150, 7", "ambiguous face"}, {"20s -5", "negative"},
		{"20s 1+2, 20s 3+4", "ambiguous face"}, {"top 20s 5, 20s 7", "0=5 ambiguous face"},
		{"top 20s 1 2", "too many"}, {"no twenties, 7", "0=0 2=0 too many"},
		{"20s 5 6, tens 1", "0=5 1=1 2=6"},
	})
	runCases(t, requestOf("20/a", "20/b", "10/c"), []parseCase{
		{"20s 1 2, 7", "0=1 1=2 2=7"}, {"20s 150 2 bundles of tens", "2=200 ambiguous face"},
		{"20s 1 2 3", "too many"}, {"20s 1 2 tens", "0=1 1=2 no count"},
	})
	next := requestOf("50", "20", "20")
	next.Next = 1
	runCases(t, next, []parseCase{{"150+100", "1=150 2=100"}, {"150", "1=150"}, {"1 2 3", "0=1 1=2 2=3"}})
}

// Bundles and the loose notes that belong to them.
func TestBundles(t *testing.T) {
	runCases(t, shop(), []parseCase{
		{"2 bundles of twenties and 40", "1=240"}, {"2 bundles of twenties, 40", "1=200 2=40"},
		{"2 bundles of twenties and 40 and 3", "1=240 2=3"}, {"2 bundles 40 3", "0=240 1=3 too few"},
		{"2 bundles of twenties 40 + 3", "1=243"}, {"2 bundles of twenties and 1b", "1=200 2=100"},
		{"2 bundles of twenties and €40", "1=200 2=4(40)"},
		{"2 bundles of twenties and -5", "1=200 negative"},
		{"2 bundles 20", "0=220"}, {"2b twenty", "1=200"}, {"2b total", "0=200"}, {"0b", "0=0"},
		{"150 - top 40", "too many"}, {"150 - €20", "0=150 negative"}, {"150 -", "0=150"},
		{"20s 150 -", "1=150"},
	})
}

// Names of boxes: the longest, the first of two, and their beginnings.
func TestNames(t *testing.T) {
	runCases(t, requestOf("50/ab", "20/Jo's box", "10/drawer", "5/drawer"), []parseCase{
		{"ab 5", "0=5"}, {"5 in ab", "0=5"}, {"ab5", "0=5"}, {"abc 5", "unreadable prose"},
		{"jo's 5", "1=5"}, {"jo’s 5", "unreadable prose"}, {"Jo's box 5", "1=5"}, {"drawer 5", "2=5"},
		{"draw 5", "unreadable prose"},
	})
	runCases(t, requestOf("50/upper left", "20/upper right"), []parseCase{
		{"upp 5", "unreadable prose"}, {"upper 5", "unreadable prose"}, {"upper left 5", "0=5"},
	})
	runCases(t, requestOf("50/upper", "20/lower"), []parseCase{
		{"upp 5, low 6", "0=5 1=6"}, {"up 5", "unreadable prose"},
	})
	runCases(t, shop(), []parseCase{
		{"1st 40", "0=40"}, {"40top", "unreadable"}, {"topp 5", "unreadable prose"},
	})
}

// Positions that no box has are kinds of note, and a kind of note worth nothing is none.
func TestNoSuchPosition(t *testing.T) {
	runCases(t, counts.Request{Lines: []counts.Line{{Face: "20"}, {Face: ""}, {Face: "0"}}}, []parseCase{
		{"box 0: 5", "unknown face"}, {"0: 7", "unknown face"}, {"box 1: 5", "unknown face"},
	})
	runCases(t, shop(), []parseCase{
		{"box 1.5: 3", "unknown face"}, {"box 4: 5", "unknown face"}, {"1.5: 3", "unknown face"},
		{"box 2.0: 3", "1=3"}, {"#1: 3", "0=3"},
	})
}

// Numbers in words end where English ends them.
func TestNumberWords(t *testing.T) {
	runCases(t, shop(), []parseCase{
		{"twenty ten", "0=20 1=10 too few"}, {"ten five", "0=10 1=5 too few"}, {"twenty 150", "1=150"},
		{"nine hundred ninety-nine", "0=999"}, {"ten hundred", "0=10 1=100 too few"},
		{"a thousand hundred", "0=1000 1=100 too few"},
		{"twenty-one", "0=21"}, {"twenty - one", "negative"}, {"one hundred and one", "0=101"},
		{"thirty and one", "0=30 1=1 too few"},
		{"two thousand three hundred", "0=2300"}, {"hundred", "0=100"}, {"thousand", "0=1000"},
		{"thirty thirteen", "0=30 1=13 too few"},
		{"A BUNDLE", "0=100"}, {"ZERO", "0=0"}, {"EVERYTHING EMPTY", "0=0 1=0 2=0"},
		{"an orange", "unreadable prose"},
		{"one 50", "0=1 1=50 too few"}, {"a 50", "0=50"},
	})
	runCases(t, requestOf("200", "100"), []parseCase{
		{"no two hundreds", "0=0"}, {"7 two hundreds", "0=7"}, {"two hundreds, 5", "1=2 too many"},
		{"two hundreds", "1=2"},
		{"two hundred", "0=200"}, {"three hundreds", "1=3"},
	})
}
