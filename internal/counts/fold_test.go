package counts_test

import (
	"testing"
	"unicode"

	"shopfloat/internal/counts"
)

func TestFold(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"40 150\n200", "40 150\n200"},
		{"a\tb\r\n", "a b\n\n"},
		{"1\u00a0500 1\u202f500 1\u2009500 1\u2007500", "1\u00a0500 1\u00a0500 1\u00a0500 1\u00a0500"},
		{"２０ｘ１５０，１０", "20x150,10"},
		{"\u200f40\u200e\u202a150\u202c\u2066\ufeff\u00ad\u200b", "40150"},
		{"1️⃣5️⃣", "15"},
		{"٤٠، ١٥٠؛ ٢٠٠۔", "40, 150; 200."},
		{"\t", " "}, {"\r", "\n"}, {"a\x7f", "a"}, {"40、150。", "40,150."}, {"！～", "!~"}, {"\x00\x7f\x1f4\x80",
			"4\ufffd"}, {"～！｀", "~!`"},
		{"￥3000 ￡20 €5", "¥3000 £20 €5"},
		{"20² ① Ⅷ ½", "20² ① Ⅷ ½"},
		{"１　２\u2028３\u00854", "1 2\n3\n4"},
		{"𝟏𝟓𝟎 𝟷𝟻", "150 15"},
	} {
		if got := counts.Fold(c.text); got != c.want {
			t.Errorf("Fold(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

// The digits one to three of scripts in use, from the code charts of the Unicode Standard.
func TestFoldScripts(t *testing.T) {
	for script, text := range map[string]string{
		"Arabic-Indic": "١٢٣", "Extended Arabic-Indic": "۱۲۳", "Devanagari": "१२३", "Bengali": "১২৩",
		"Gurmukhi": "੧੨੩", "Gujarati": "૧૨૩", "Tamil": "௧௨௩", "Telugu": "౧౨౩", "Kannada": "೧೨೩",
		"Malayalam": "൧൨൩", "Thai": "๑๒๓", "Lao": "໑໒໓", "Tibetan": "༡༢༣", "Myanmar": "၁၂၃", "Khmer": "១២៣",
		"Full-width": "１２３", "NKo": "߁߂߃", "Adlam": "𞥑𞥒𞥓",
	} {
		if got := counts.Fold(text); got != "123" {
			t.Errorf("%s: %q", script, got)
		}
	}
}

// The Unicode Standard, section 4.6: decimal digits come in runs of ten with ascending values. The place
// inside the run must be the value for every one of them.
func TestFoldEveryDigit(t *testing.T) {
	want := rune('0')
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if !unicode.Is(unicode.Nd, r) {
			continue
		}
		if got := counts.Fold(string(r)); got != string(want) {
			t.Fatalf("%U folds to %q, want %q", r, got, want)
		}
		if want++; want > '9' {
			want = '0'
		}
	}
}
