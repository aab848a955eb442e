package counts_test

import (
	"fmt"
	"strings"
	"testing"

	"shopfloat/internal/counts"
)

// shop is the usual request: three note boxes, the first one is next.
func shop() counts.Request {
	return counts.Request{
		Currency: "EUR", MinorDigits: 2,
		Lines: []counts.Line{
			{Face: "50", Position: 1, Name: "top", Bundle: 100},
			{Face: "20", Position: 2, Name: "middle", Bundle: 100},
			{Face: "10", Position: 3, Name: "bottom", Bundle: 100},
		},
	}
}

func show(res counts.Result) string {
	var b strings.Builder
	for i, item := range res.Items {
		if i > 0 {
			b.WriteByte(' ')
		}
		fmt.Fprintf(&b, "%d=%d", item.Line, item.Notes)
		if item.FromValue {
			fmt.Fprintf(&b, "(%s)", item.Value)
		}
	}
	if res.Total != "" {
		fmt.Fprintf(&b, " total %s", res.Total)
	}
	if res.Problem != nil {
		fmt.Fprintf(&b, " %v", res.Problem.Code)
	}
	if res.Prose {
		b.WriteString(" prose")
	}
	return strings.TrimSpace(b.String())
}

type parseCase struct{ text, want string }

func runCases(t *testing.T, req counts.Request, cases []parseCase) {
	t.Helper()
	for _, c := range cases {
		if got := show(counts.Parse(c.text, req)); got != c.want {
			t.Errorf("%q = %q, want %q", c.text, got, c.want)
		}
	}
}

// A plain blank groups thousands only where nothing else can be meant.
func TestParseSpacedThousands(t *testing.T) {
	runCases(t, shop(), []parseCase{
		{"2 000", "0=2000"}, {"2 050", "0=2050"}, {"12 000", "0=12000"},
		{"40 2 000 200", "0=40 1=2000 2=200"}, {"40 3 000", "0=40 1=3000 too few"},
		{"1 000 2 000 1 200", "0=1000 1=2000 2=1200"},
		{"1 500 200 80", "0=1500 1=200 2=80"}, {"40 1 500 200", "0=40 1=1500 2=200"},
		{"1 500", "0=1 1=500 too few"}, {"1 500 200", "0=1 1=500 2=200"},
		{"1 500 2 500", "too many"}, // one of the two, and nobody knows which
		{"0 050", "0=0 1=50 too few"}, {"2, 000", "0=2 1=0 too few"}, {"2 0000", "0=2 1=0 too few"},
		{"2\n000", "0=2 1=0 too few"}, {"20s 2 000", "too many"},
	})
	last := shop()
	last.Next = 2
	runCases(t, last, []parseCase{
		{"1 500", "2=1500"}, {"2 000", "2=2000"}, {"40 150 200", "0=40 1=150 2=200"},
	})
	pairs := shop()
	pairs.Lines = []counts.Line{{Face: "5"}, {Face: "2"}}
	runCases(t, pairs, []parseCase{{"5 100 2 200", "0=100 1=200"}})
}

func TestParseBoxOrder(t *testing.T) {
	runCases(t, shop(), []parseCase{
		{"40 150 200", "0=40 1=150 2=200"},
		{"40, 150, 200", "0=40 1=150 2=200"},
		{"40,150,200", "0=40 1=150 2=200"},
		{"40;150;200", "0=40 1=150 2=200"},
		{"40/150/200", "0=40 1=150 2=200"},
		{"40\n150\n200", "0=40 1=150 2=200"},
		{"40 and 150 and 200.", "0=40 1=150 2=200"},
		{"40.150.200", "0=40 1=150 2=200"},
		{"forty, one hundred and fifty, two hundred", "0=40 1=150 2=200"},
		{"1,500 2,000 1,200", "0=1500 1=2000 2=1200"},
		{"1.500, 2.000, 200", "0=1500 1=2000 2=200"},
		{"40 notes 150 notes 200 notes", "0=40 1=150 2=200"},
		{"1. 40\n2. 150\n3. 200", "0=40 1=150 2=200"},
		{"1) 40 \n2) 150\n3) 200", "0=40 1=150 2=200"},
		{"1: 40, 2: 150, 3: 200", "0=40 1=150 2=200"},
		{"40 0 200", "0=40 1=0 2=200"},
		{"40 none 200", "0=40 1=0 2=200"},
		{"40", "0=40"},
		{"20", "0=20"},
		{"150 notes.", "0=150"},
		{"1,500", "0=1500"},
		{"1.500", "0=1500"},
		{"1'500", "0=1500"},
		{"1\u00a0500", "0=1500"},
		{"1\u202f500", "0=1500"},
		{"1,00,000", "0=100000"},
		{"150,200", "0=150 1=200 too few"},
		{"40 150", "0=40 1=150 too few"},
		{"20 150", "face or notes"},
		{"50 40\n20 150\n10 200", "0=40 1=150 2=200"},
		{"50 40 20 150 10 200", "0=40 1=150 2=200"},
		{"50 40 20 150", "0=40 1=150"},
		{"1 2 3 4", "too many"},
		{"1b+37", "0=137"},
		{"2 bundles 40", "0=240"},
		{"2 bundles + 40", "0=240"},
		{"2 bundles and 40 loose", "0=240"},
		{"2b", "0=200"},
		{"3 packs", "0=300"},
		{"a bundle", "0=100"},
		{"150+100", "0=250"},
		{"2b 40, 1b, 3b+1", "0=240 1=100 2=301"},
		{"none", "0=0"}, {"zero", "0=0"}, {"-", "0=0"}, {"0", "0=0"}, {"empty", "0=0"}, {"Nothing", "0=0"},
		{"all empty", "0=0 1=0 2=0"},
		{"١٥٠", "0=150"}, {"१५०", "0=150"}, {"１５０", "0=150"}, {"\u200f١٥٠\u200e ٢٠٠ ٤٠", "0=150 1=200 2=40"},
		{"1️⃣5️⃣0️⃣", "0=150"},
		{"40 150 200 👍", "0=40 1=150 2=200"},
	})
}

// Where a few notes of some kinds are told "one twenty" is a note, elsewhere a number as it is said.
func TestParseFew(t *testing.T) {
	req := shop()
	req.Few = true
	runCases(t, req, []parseCase{{"one twenty", "1=1"}, {"one fifty", "0=1"}, {"a fifty", "0=1"}})
	runCases(t, shop(), []parseCase{{"one twenty", "0=120"}, {"two fifty five", "0=255"},
		{"one fifty two hundred", "0=1 1=52 2=100"}})
}

func TestParseFaces(t *testing.T) {
	runCases(t, shop(), []parseCase{
		{"20x150 10x200", "1=150 2=200"},
		{"20x150,10x200", "1=150 2=200"},
		{"20 x 150 + 10 x 200", "1=150 2=200"},
		{"20×150", "1=150"}, {"20*150", "1=150"}, {"20X150", "1=150"},
		{"150x20", "1=150"}, {"150 x 20, 200 x 10", "1=150 2=200"},
		{"40x50,150x20,200x10", "0=40 1=150 2=200"},
		{"20x50", "1=50"}, {"20x10", "1=10"},
		{"150 twenties, 200 tens", "1=150 2=200"},
		{"150 twenties 200 tens", "1=150 2=200"},
		{"twenties 150 tens 200", "1=150 2=200"},
		{"20: 150", "1=150"}, {"20 = 150", "1=150"}, {"20:150,10:200", "1=150 2=200"},
		{"50s 40", "0=40"}, {"40 50s", "0=40"}, {"40 50s 150 20s", "0=40 1=150"},
		{"50s:40,20s:150", "0=40 1=150"},
		{"20's 150", "1=150"}, {"20s: 150", "1=150"}, {"20s - 150", "1=150"}, {"20s-150", "1=150"},
		{"€20 150", "1=150"}, {"20€: 150", "1=150"}, {"€20 x 150", "1=150"}, {"150 x €20", "1=150"},
		{"150 €20 notes", "1=150"}, {"20 euro notes: 150", "1=150"}, {"150 notes of 20", "1=150"},
		{"150 of €20", "1=150"}, {"€50 40 €20 150", "0=40 1=150"},
		{"1 twenty", "1=1"}, {"a twenty", "1=1"}, {"twenty", "0=20"},
		{"twenty five", "0=25"},
		{"twenty: 150", "1=150"}, {"twenty fifties", "0=20"}, {"12 tenners", "2=12"}, {"a tenner", "2=1"},
		{"top 40", "0=40"}, {"TOP: 40 middle: 150 bottom: 200", "0=40 1=150 2=200"}, {"box 2: 150", "1=150"},
		{"middle 150", "1=150"}, {"mid 150", "1=150"}, {"150 in the centre", "1=150"},
		{"upper 40", "0=40"}, {"#2 150", "1=150"}, {"40 in top", "0=40"},
		{"first 40 second 150", "0=40 1=150"}, {"2nd 150", "1=150"}, {"top - 40\nmiddle - 150", "0=40 1=150"},
		{"- top 40\n- middle 150", "0=40 1=150"}, {"- 20s 150\n- 10x200", "1=150 2=200"},
		{"middle 20s 150", "1=150"}, {"20s middle 150", "1=150"}, {"top 20s 150", "unknown face"},
		{"20s 1b+37", "1=137"}, {"20x1b+37", "1=137"}, {"20x1b+37 10x200", "1=137 2=200"},
		{"2 bundles of twenties", "1=200"}, {"2 bundles of twenties + 40", "1=240"},
		{"2 bundles 40 twenties", "1=240"},
		{"20s 2 bundles and 40", "1=240"}, {"2 bundles twenties 40 tens", "1=200 2=40"},
		{"20s 150+100", "1=250"}, {"20s 1,500", "1=1500"}, {"20s 1.500, 10s 200", "1=1500 2=200"},
		{"no twenties", "1=0"}, {"20s none, 10s 3", "1=0 2=3"},
		{"top 40 middle - bottom 200", "0=40 1=0 2=200"},
		{"€3000 in 20s", "1=150(3000)"}, {"3000 euro in twenties", "1=150(3000)"},
		{"3000€ of 20s", "1=150(3000)"},
		{"20s: €3000", "1=150(3000)"}, {"EUR 3000 in 20s", "1=150(3000)"}, {"€3,000.00 in 20", "1=150(3000)"},
		{"€3000", "0=60(3000)"}, {"€3010 in 20s", "not whole"}, {"£3000 in 20s", "other currency"},
		{"I counted 40 in the top box, 150 in the middle", "0=40 1=150"},
	})
}

func TestParseRefused(t *testing.T) {
	runCases(t, shop(), []parseCase{
		{"-5", "negative"}, {"−5", "negative"}, {"20s -5, 10s 3", "2=3 negative"}, {"20x-5", "negative"},
		{"40 -150 200", "0=40 2=200 negative"}, {"150-20", "negative"}, {"150 - 20", "negative"},
		{"minus 5", "negative"},
		{"€-50", "negative"}, {"-€50", "negative"},
		{"150.5", "fraction"}, {"1/2", "fraction"}, {"½", "fraction"}, {"150½", "fraction"},
		{"20s 150.5 10s 3", "2=3 fraction"},
		{"half a bundle", "fraction"}, {"20s: 150,5", "fraction"},
		{"30s 10", "unknown face"}, {"30x10x", "2=30"}, {"30x7", "unknown face"},
		{"30: 7, 20: 5", "1=5 unknown face"},
		{"hundreds 5", "unknown face"}, {"7 notes of 30", "unknown face"},
		{"20s 5, 20s 6", "twice"}, {"20x5 middle 6 top 3", "0=3 twice"},
		{"12345678", "too big"}, {"20s 12345678, 10s 3", "2=3 too big"}, {"999999b", "too big"},
		{"12k", "unreadable"}, {"1e3", "unreadable"}, {"0x1f", "unreadable"}, {"15O", "unreadable"},
		{"20²", "unreadable"},
		{"20s 1 500", "too many"}, {"20s", "no count"}, {"top", "no count"}, {"20s, 10s 3", "2=3 no count"},
		{strings.Repeat("1 ", 260), "too long"}, {"", "empty"}, {" .. ", "empty"},
		{"top 40 middle 150 botom 200", "0=40 1=150 unreadable"},
		{"150 twenties 200 tenns", "1=150 unreadable"},
		{"what do i do with a ripped one", "unreadable prose"},
		{"2 notes stuck in the machine what now", "unreadable prose"},
		{"2 twenties stuck", "unreadable prose"}, {"is 40 left?", "unreadable prose"}, {"150?", "0=150"},
		{"machine says no conection", "unreadable prose"}, {"ok", "unreadable prose"},
		{"total 7000", "total 7000 total only"}, {"40 150 200 total 7,000", "0=40 1=150 2=200 total 7000"},
	})
}

func TestParseNext(t *testing.T) {
	req := shop()
	req.Next = 1
	runCases(t, req, []parseCase{
		{"150", "1=150"}, {"150 200", "1=150 2=200"}, {"150,200", "1=150 2=200"},
		{"40 150 200", "0=40 1=150 2=200"},
		{"1,500", "1=1500"}, {"1 2 3 4", "too many"}, {"20", "1=20"},
	})
}

func TestParseTwoBoxesOfOneFace(t *testing.T) {
	req := shop()
	req.Lines[2].Face = "20"
	runCases(t, req, []parseCase{
		{"20s 150+100", "1=150 2=100"}, {"20s 150 100", "1=150 2=100"}, {"20x150 20x100", "1=150 2=100"},
		{"20s 150", "ambiguous face"}, {"20s 150, top 3", "0=3 ambiguous face"},
		{"40 150+100", "0=40 1=150 2=100"},
		{"20s 1b+37", "ambiguous face"}, {"no twenties", "1=0 2=0"}, {"20s bottom 7", "2=7"},
		{"40 150 60+40", "0=40 1=150 2=100"}, {"20x1 20x2 20x3", "twice"},
	})
}

func TestParseValues(t *testing.T) {
	req := shop()
	req.Values, req.ZeroAll = true, true
	runCases(t, req, []parseCase{
		{"20 90 120", "0=20 1=90 2=120"}, {"€1000 €1800 €1200", "0=20(1000) 1=90(1800) 2=120(1200)"},
		{"1000.00 1800.00 1200.00", "0=20(1000) 1=90(1800) 2=120(1200)"}, {"1.800,00", "0=36(1800)"},
		{"€3000", "0=60(3000)"}, {"€1580", "not whole"},
		{"total 3000", "total 3000"}, {"3000 total", "total 3000"},
		{"total: €3,000.00", "total 3000"},
		{"20s 1800.00", "1=90(1800)"}, {"20s €1810", "not whole"}, {"0", "0=0 1=0 2=0"},
		{"none", "0=0 1=0 2=0"},
	})
}

func TestParseBare(t *testing.T) {
	printed := shop()
	printed.Values = true
	for text, want := range map[string]bool{
		"60": true, "€1400": true, "€1410": true, "1400.00": true, "2b 40": true, "150+100": true,
		"20s 60": false, "60 twenties": false, "28 79": false, "28 79 120": false, "total 4180": false,
		"4180 total": false, "€1580 in 20s": false, "20s €1590": false, "": false, "when does it open": false,
	} {
		if got := counts.Parse(text, printed).Bare; got != want {
			t.Errorf("%q: bare %v, want %v", text, got, want)
		}
	}
}
