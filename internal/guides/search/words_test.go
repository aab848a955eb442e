package search

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
)

func TestTokens(t *testing.T) {
	for text, want := range map[string]string{
		"The €20s won't come OUT!": "the twenties not come out",
		"50 notes, 3 missing":      "fifties notes missing",
		"I can’t find it":          "i not find it",
		"café über señor":          "cafe uber senor",
		"4G sim":                   "4g sim",
		"":                         "",
	} {
		if got := strings.Join(tokens(text), " "); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

func TestStemBringsFormsTogether(t *testing.T) {
	for _, forms := range []string{
		"jam jams jammed jamming", "block blocks blocked blocking", "top tops topped topping",
		"fill fills filled filling", "note notes", "cassette cassettes", "balance balances balanced balancing",
		"copy copies", "box boxes", "settle settled settling settles", "miss missed missing", "key keys",
	} {
		words := strings.Fields(forms)
		for _, w := range words[1:] {
			if stem(w) != stem(words[0]) {
				t.Errorf("%s gives %s, %s gives %s", words[0], stem(words[0]), w, stem(w))
			}
		}
	}
	for _, pair := range []string{"full fuel", "power poker", "test taste", "bank bang", "string strong"} {
		a, b, _ := strings.Cut(pair, " ")
		if stem(a) == stem(b) {
			t.Errorf("%s and %s both give %s", a, b, stem(a))
		}
	}
}

func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"jam", "jam", 0}, {"receipt", "reciept", 1}, {"note", "notes", 1}, {"stuck", "stack", 1},
		{"machine", "mahcien", 2}, {"counterfeit", "countrfiet", 2}, {"cat", "dog", 3},
	} {
		if got := slips(c.a, c.b, 2); got != c.want {
			t.Errorf("%s, %s: got %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

// One slip is seen as one, whatever it is and wherever it happens, and the
// count is the same both ways.
func TestSlipsSeesOneSlip(t *testing.T) {
	checks.Rapid(t, 1000, 20_000, 2_000_000, func(t *rapid.T) {
		word := rapid.StringMatching(`[a-z]{4,12}`).Draw(t, "word")
		at := rapid.IntRange(0, len(word)-2).Draw(t, "at")
		letter := rapid.StringMatching(`[a-z]`).Draw(t, "letter")
		slip := rapid.SampledFrom([]string{
			word[:at] + word[at+1:],
			word[:at] + letter + word[at:],
			word[:at] + letter + word[at+1:],
			word[:at] + word[at+1:at+2] + word[at:at+1] + word[at+2:],
		}).Draw(t, "slip")
		there, back := slips(word, slip, 2), slips(slip, word, 2)
		if there > 1 || there != back || (there == 0) != (word == slip) {
			t.Fatalf("%s, %s: %d there, %d back", word, slip, there, back)
		}
	})
}

func TestMend(t *testing.T) {
	known := []string{"receipt", "receipt", "machine", "card", "reader", "reboot", "reboot", "robot", "jammed"}
	sp := newSpeller(known, map[string]bool{"match": true, "making": true})
	for w, want := range map[string]string{
		"receipt": "receipt", "reciept": "receipt", "rceeipt": "receipt", "machne": "machine",
		"match": "match", "cardreader": "card reader", "rebot": "reboot", "makin": "making",
		"jamed": "jammed", "qwertyuiop": "qwertyuiop", "rd": "rd",
		strings.Repeat("x", 99): strings.Repeat("x", 99),
	} {
		if got := strings.Join(sp.mend(w), " "); got != want {
			t.Errorf("%s: got %s, want %s", w, got, want)
		}
	}
}

func TestAskedGot(t *testing.T) {
	for text, want := range map[string]string{
		"asked for 20 and got 50":       gotMore,
		"asked for 50, only 20 came":    gotLess,
		"got 20 instead of 40":          gotLess,
		"it gave her €100 not 50":       gotMore,
		"he wanted ten, received fifty": gotMore,
		"50 came out instead of 20":     gotMore,
		"20 tens are missing":           "",
		"asked for 20 got 20":           "",
		"":                              "",
	} {
		if got := askedGot(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

func TestReadLexiconErr(t *testing.T) {
	for list, want := range map[string]string{
		"no colon here":        `ideas:1: expected "idea: words", found "no colon here"`,
		"# fine\n\na [odd]: b": `ideas:3: flag "odd" is not known`,
		"    goes on":          "ideas:1: words without an idea",
	} {
		if _, err := readLexicon([]byte(list), nil); err == nil || err.Error() != want {
			t.Errorf("%q: got %v, want %s", list, err, want)
		}
	}
}

func TestLexiconFindsPhrases(t *testing.T) {
	list := "late: not yet, still\n    waiting, long overdue\nlost [weak]: lost the key, lost\n"
	lx, err := readLexicon([]byte(list), nil)
	if err != nil {
		t.Fatal(err)
	}
	rd := reader{lx: lx, sp: newSpeller(nil, nil)}
	for text, want := range map[string]string{
		"it has not come yet": "", "it is not yet here": "late", "i lost my key": "lost", "waiting": "late",
		"the long overdue one": "late",
	} {
		words := tokens(text)
		var names []string
		for _, id := range rd.ideas(stems(content(words)), words) {
			names = append(names, id.name)
		}
		if got := strings.Join(names, " "); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
	if !slices.ContainsFunc(lx.ideas["lost"], func(id *idea) bool { return id.weak }) {
		t.Error("the flag of lost was not kept")
	}
}

func FuzzReadLexicon(f *testing.F) {
	f.Add([]byte("a [same]: b, c d\n    e\n"))
	f.Add([]byte("a [: b"))
	f.Fuzz(func(t *testing.T, list []byte) {
		if lx, err := readLexicon(list, nil); err == nil && lx == nil {
			t.Error("neither a lexicon nor a fault")
		}
	})
}
