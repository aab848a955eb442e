package wording_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/wording"
)

func TestClauses(t *testing.T) {
	for text, want := range map[string]string{
		"Hi! It's 1.5 now. What's next?":  "hi|it is 1 5 now|what is next",
		"can't find it\nwon't open":       "can not find it|will not open",
		"i am ill; he'll come":            "i am ill|hell come",
		"":                                "",
		"Ça va, naïve café":               "ca va naive cafe",
		"one. two. 3. 4. 5. 6. 7. 8. 9th": "one|two|3 4 5 6 7 8 9th",
	} {
		var got []string
		for _, c := range wording.Clauses(text) {
			got = append(got, strings.Join(c.Words, " "))
		}
		if strings.Join(got, "|") != want {
			t.Errorf("%q: %q, want %q", text, strings.Join(got, "|"), want)
		}
	}
}

// What is only polite is cut from both ends, as long as something is left.
func TestPolite(t *testing.T) {
	for text, want := range map[string]string{
		"sorry to bother you, good morning, who opened please": "who opened", "thanks": "thanks",
		"hi there can you tell me how full it is thanks a lot": "how full it is",
		"open the safe": "open the safe",
	} {
		if got := strings.Join(wording.Unpolite(wording.Of(text)), " "); got != want {
			t.Errorf("%q: %q", text, got)
		}
	}
	all := map[string]bool{"hello good morning": true, "ok thanks": true, "hello machine": false}
	for text, want := range all {
		if got := wording.OnlyPolite(wording.Of(text)); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

// The longest phrase stands first at each place; a list that names no kind is refused.
func TestLexicon(t *testing.T) {
	lx, err := wording.ReadLexicon(
		"# words\nfire: fire, on fire\n  smoke\nplace: fire station\nzh fire: 火", wording.Of)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range lx.Find(wording.Of("the fire station is on fire")) {
		got = append(got, s.Kind)
	}
	if want := []string{"place", "fire", "fire", "fire"}; !slices.Equal(got, want) {
		t.Errorf("got %v", got)
	}
	if spans := lx.Find(wording.Of("着火了")); !wording.Has(spans, "zh fire") || wording.Has(spans, "fire") {
		t.Errorf("a word without blanks around it: %v", spans)
	}
	if !lx.Knows("on fire") || lx.Knows("water") || len(lx.Phrases()) != 5 {
		t.Errorf("it knows %v", lx.Phrases())
	}
	for _, bad := range []string{"fire", "  smoke", "fire smoke\n"} {
		if _, err := wording.ReadLexicon(bad, wording.Of); err == nil {
			t.Errorf("%q is taken for a list", bad)
		}
	}
}
