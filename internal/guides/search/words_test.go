package search

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/learn"
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

// One slip is seen as one, whatever it is and wherever it happens, and the
// count is the same both ways.
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
	rd := reader{lx: lx, sp: learn.NewSpeller(nil, nil)}
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
