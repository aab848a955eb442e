package learn

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/checks"
)

func TestStemBringsFormsTogether(t *testing.T) {
	for _, forms := range []string{
		"jam jams jammed jamming", "block blocks blocked blocking", "top tops topped topping",
		"fill fills filled filling", "note notes", "cassette cassettes", "balance balances balanced balancing",
		"copy copies", "box boxes", "settle settled settling settles", "miss missed missing", "key keys",
	} {
		words := strings.Fields(forms)
		for _, w := range words[1:] {
			if Stem(w) != Stem(words[0]) {
				t.Errorf("%s gives %s, %s gives %s", words[0], Stem(words[0]), w, Stem(w))
			}
		}
	}
	for _, pair := range []string{"full fuel", "power poker", "test taste", "bank bang", "string strong"} {
		a, b, _ := strings.Cut(pair, " ")
		if Stem(a) == Stem(b) {
			t.Errorf("%s and %s both give %s", a, b, Stem(a))
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
	sp := NewSpeller(Uses(known), map[string]bool{"match": true, "making": true})
	for w, want := range map[string]string{
		"receipt": "receipt", "reciept": "receipt", "rceeipt": "receipt", "machne": "machine",
		"match": "match", "cardreader": "card reader", "rebot": "reboot", "makin": "making",
		"jamed": "jammed", "qwertyuiop": "qwertyuiop", "rd": "rd",
		strings.Repeat("x", 99): strings.Repeat("x", 99),
	} {
		if got := strings.Join(sp.Mend(w), " "); got != want {
			t.Errorf("%s: got %s, want %s", w, got, want)
		}
	}
}

// Words of one sense are of one field and apart from those of others; a word that is only grouped
// may be a slip, and is no English word.
func TestSenses(t *testing.T) {
	senses, english := Senses(), English()
	for _, alike := range []string{"lunch dinner breakfast", "monday tuesday friday", "red blue green"} {
		words := strings.Fields(alike)
		for _, w := range words[1:] {
			if senses[w].Sense != senses[words[0]].Sense || senses[w].Field != senses[words[0]].Field {
				t.Errorf("%s is %v, %s is %v", words[0], senses[words[0]], w, senses[w])
			}
		}
	}
	if senses["lunch"].Field == senses["monday"].Field || senses["lunch"].Sense == senses["bank"].Sense {
		t.Error("lunch is a day, or a bank")
	}
	if len(english) < 10_000 || len(senses) < len(english) {
		t.Errorf("%d English words, %d with a sense", len(english), len(senses))
	}
	for w := range english {
		if w == parting || strings.HasPrefix(w, grouped) {
			t.Errorf("%q is taken for a word", w)
		}
	}
}
