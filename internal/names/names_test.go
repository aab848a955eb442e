package names_test

import (
	"errors"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"shopfloat/internal/names"
)

func TestPerson(t *testing.T) {
	for typed, want := range map[string]string{
		"Bea": "Bea", "  Bea \n": "Bea", "Bea\u00a0 Ann": "Bea Ann", "Ｂｅａ": "Bea", "O’Neill": "O’Neill",
		"Jean-Luc": "Jean-Luc", "J. R. 2": "J. R. 2", "B\u200bea": "Bea", "B\u00adea": "Bea", "\u202eaeB": "aeB",
		"Ольга": "Ольга", "Ольга Olga": "Ольга Olga", "李 明": "李 明", "محمد": "محمد", "B\ufeffea": "Bea",
		"Bea\u2029x": "Bea x",
		"Jose\u0301": "José", "ﬁona": "fiona", "Rob": "Rob", "Day": "Day",
	} {
		if got, err := names.Person(typed); got != want || err != nil {
			t.Errorf("%q: %q, %v; want %q", typed, got, err, want)
		}
	}
	for typed, want := range map[string]error{
		"": names.ErrEmpty, "\u200b\u2060": names.ErrEmpty, "\u3164": names.ErrEmpty, "\u2800": names.ErrEmpty,
		"12":          names.ErrEmpty,
		"Bea (owner)": names.ErrSigns, "Bea @x": names.ErrSigns, "Bea: ok": names.ErrSigns, "Bea ✅": names.ErrSigns,
		"Веa": names.ErrMixed, "Bеа": names.ErrMixed, "Αda": names.ErrMixed,
	} {
		if got, err := names.Person(typed); !errors.Is(err, want) {
			t.Errorf("%q: %q, %v; want %v", typed, got, err, want)
		}
	}
}

func TestPlace(t *testing.T) {
	for typed, want := range map[string]string{
		"Knife & Fork": "Knife & Fork", "Café 24/7 (old town)": "Café 24/7 (old town)", "A\u202eB": "AB",
		"No. 3": "No. 3",
	} {
		if got, err := names.Place(typed); got != want || err != nil {
			t.Errorf("%q: %q, %v", typed, got, err)
		}
	}
	for _, typed := range []string{"", "()", "\u200e"} {
		if got, err := names.Place(typed); err == nil {
			t.Errorf("%q is taken as %q", typed, got)
		}
	}
}

// A machine's name stands behind commands, where counts stand too.
func TestMachine(t *testing.T) {
	for _, typed := range []string{"Back machine", "No. 3", "Machine 2", "2 left", "K9", "1st floor",
		"50s box", "二号"} {
		if got, err := names.Machine(typed); got != typed || err != nil {
			t.Errorf("%q: %q, %v", typed, got, err)
		}
	}
	for _, typed := range []string{"2", "10 20", "50s", "50S", "20x5", "20 x", "4k", "40, 150, 200",
		"€50", "20’s", "24/7"} {
		if got, err := names.Machine(typed); !errors.Is(err, names.ErrCount) {
			t.Errorf("%q is taken as %q, %v", typed, got, err)
		}
	}
	if _, err := names.Machine("()"); !errors.Is(err, names.ErrEmpty) {
		t.Error(err)
	}
}

// Pairs from the confusables of Unicode 13 (UTS 39), and everyday ones.
func TestSame(t *testing.T) {
	for _, pair := range [][2]string{
		{"Bea", "bea"}, {"Bea", "Веа"}, {"Ada", "Аda"}, {"Paul", "PauI"}, {"Paul", "Pau1"}, {"Cleo", "CIeo"},
		{"Bo", "B0"},
		{"Bea", "B\u200bea"}, {"Bea", "B e a"}, {"Jean-Luc", "Jean Luc"}, {"Ｂｅａ", "Bea"}, {"BEA", "bea"},
		{"Ωmega", "Ωmega"},
		{"José", "Jose\u0301"}, {"STRASSE", "straße"},
	} {
		if !names.Same(pair[0], pair[1]) || !names.Same(pair[1], pair[0]) {
			t.Errorf("%q and %q are told apart", pair[0], pair[1])
		}
	}
	for _, pair := range [][2]string{
		{"Bea", "Ben"}, {"José", "Jose"}, {"Bea", "Bea B"}, {"", ""}, {"Ana", "Anna"}, {"Ольга", "Олег"}, {"Cy",
			"Guy"},
	} {
		if names.Same(pair[0], pair[1]) {
			t.Errorf("%q and %q are one", pair[0], pair[1])
		}
	}
}

func TestQuoted(t *testing.T) {
	for s, want := range map[string]string{
		"Bea": "“Bea”", "": "", "\u200b": "",
		"Bea\nChecked: this is the right account": "“Bea Checked: this is the right account”",
		"Bea” is right. “x":                       "“Bea' is right. 'x”",
		"\u202eBea (@bea)":                        "“Bea (@bea)”", "דנה": "“\u2068דנה\u2069”",
		"D'Arcy": "“D'Arcy”", "Z̸̡̢̛a": "“Z̸̡a”", strings.Repeat("a", 70): "“" + strings.Repeat("a", 63) + "…”",
	} {
		if got := names.Quoted(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

// What people type, and what goes out, keeps its lines and its letters, and loses what steers
// or cannot be seen.
func TestClean(t *testing.T) {
	for s, want := range map[string]string{
		"20x5\n10 3": "20x5\n10 3", "plain ~": "plain ~", "": "", "a\tb": "a b", "a\u2028b\u2029c": "a b c",
		"a\x00b\x1b[31m": "ab[31m", "a\x7fb\u0085c": "abc", "\u202eabc": "abc", "a\u200db\ufeff": "ab",
		"\ue000x\u115f\u3164": "x", "é ß 李 €": "é ß 李 €", "\u2068דנה\u2069": "\u2068דנה\u2069", "\r\n": "\n",
	} {
		if got := names.Clean(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

// A reference is one line of at most 35 letters; words are quoted up to 400.
func TestReferenceAndWords(t *testing.T) {
	for s, want := range map[string]string{" NTRF\n 12\u200b-3 ": "NTRF 12-3", "": "",
		strings.Repeat("é", 40): strings.Repeat("é", 35), strings.Repeat("a", 34) + " b": strings.Repeat("a", 34)} {
		if got := names.Reference(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
	for s, want := range map[string]string{"the “till”\nwas short": "“the 'till' was short”", " ": "",
		strings.Repeat("b", 400): "“" + strings.Repeat("b", 400) + "”",
		strings.Repeat("b", 401): "“" + strings.Repeat("b", 399) + "…”"} {
		if got := names.Words(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

func TestFormula(t *testing.T) {
	for s, want := range map[string]bool{
		"=1+1": true, "＝1+1": true, " ＝1": true, "\u200b=1": true, "﹢1": true, "＠x": true, "－1": true,
		"−1": true, "⁺1": true,
		"Bea": false, "": false, "1+1": false, "№ 5": false, "a=b": false,
	} {
		if names.Formula(s) != want {
			t.Errorf("%q: %t", s, !want)
		}
	}
}

// A form is stable, can be seen, and is the same name as what was typed; what is quoted stays in its quotes.
func FuzzNames(f *testing.F) {
	for _, s := range []string{"Bea", "B\u200bеa", "\u202eaeB (@x)", "ﬃ ½ ｱ", "a\u0301\u0302\u0303",
		"“”\"«»„", "\u3164", "İstanbul", "ǅ"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, form := range []func(string) (string, error){names.Person, names.Place} {
			name, err := form(s)
			if err != nil {
				continue
			}
			again, err := form(name)
			if again != name || err != nil {
				t.Errorf("%q becomes %q and then %q, %v", s, name, again, err)
			}
			if !names.Same(name, name) || !utf8.ValidString(name) || strings.ContainsFunc(name, hidden) {
				t.Errorf("%q becomes %q", s, name)
			}
		}
		q := names.Quoted(s)
		inside := strings.TrimSuffix(strings.TrimPrefix(q, "“"), "”")
		if strings.ContainsAny(inside, "“”„\"\n") || strings.ContainsFunc(inside, func(r rune) bool {
			return hidden(r) && r != '\u2068' && r != '\u2069'
		}) {
			t.Errorf("%q is quoted as %q", s, q)
		}
	})
}

func hidden(r rune) bool { return unicode.In(r, unicode.C) || unicode.In(r, unicode.Zl, unicode.Zp) }

func TestUnaccented(t *testing.T) {
	for name, want := range map[string]string{"Zoë": "zoe", "Łukasz": "lukasz", "Jürgen Groß": "jurgen gross",
		"Søren": "soren", "Ben": "ben", "Æsa Đorđević": "aesa dordevic"} {
		if got := names.Unaccented(name); got != want {
			t.Errorf("%q without accents is %q, want %q", name, got, want)
		}
	}
}
