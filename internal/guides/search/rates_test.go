package search_test

import (
	"bufio"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
)

const questionsDir = "../../../testdata/questions"

// question is a labelled one; want is "none" for chatter.
type question struct{ text, want string }

func questions(t testing.TB, names ...string) []question {
	t.Helper()
	var out []question
	for _, name := range names {
		f, err := os.Open(filepath.Join(questionsDir, name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		for sc := bufio.NewScanner(f); sc.Scan(); {
			want, text, ok := strings.Cut(sc.Text(), "\t")
			if !ok {
				t.Fatalf("%s: no tab in %q", name, sc.Text())
			}
			out = append(out, question{text: text, want: want})
		}
	}
	return out
}

// rates are shares between 0 and 1.
type rates struct {
	top1, top3 float64 // of questions that belong to a topic
	answered   float64 // of chatter
	clear      float64 // of topic questions, started without asking back
	clearWrong float64 // of topic questions, started with the wrong guide
}

func measure(ix *search.Index, qs []question) rates {
	var r rates
	var asked, chat float64
	for _, q := range qs {
		a := ix.Search(q.text)
		if q.want == "none" {
			chat++
			r.answered += one(len(a.IDs) > 0)
			continue
		}
		asked++
		first := len(a.IDs) > 0 && a.IDs[0] == q.want
		r.top1 += one(first)
		r.top3 += one(slices.Contains(a.IDs, q.want))
		r.clear += one(a.Clear)
		r.clearWrong += one(a.Clear && !first)
	}
	return rates{r.top1 / asked, r.top3 / asked, r.answered / chat, r.clear / asked, r.clearWrong / asked}
}

func one(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// The goals are those for questions nobody here has seen. The development
// half was looked at while the word lists were written; of the held-back half
// only the rates were read before the word lists were closed; see SEARCH.md.
func TestRates(t *testing.T) {
	ix := index(t)
	for _, name := range []string{"dev.tsv", "held.tsv"} {
		qs := questions(t, name)
		r := measure(ix, qs)
		t.Logf("%-9s %4d questions: top-1 %.1f %%, top-3 %.1f %%, chatter answered %.1f %%, "+
			"started at once %.1f %%, wrongly %.1f %%",
			name, len(qs), 100*r.top1, 100*r.top3, 100*r.answered, 100*r.clear, 100*r.clearWrong)
		if r.top1 < 0.92 || r.top3 < 0.98 || r.answered > 0.05 {
			t.Errorf("%s: want top-1 of 92 %%, top-3 of 98 %%, at most 5 %% of chatter answered", name)
		}
	}
}

func TestQuestionsAreEnough(t *testing.T) {
	qs := questions(t, "dev.tsv", "held.tsv")
	per := map[string]int{}
	for _, q := range qs {
		per[q.want]++
	}
	if len(qs) < 400 || per["none"] < 80 {
		t.Errorf("%d questions, %d of them chatter; want 400 and 80", len(qs), per["none"])
	}
	lib, err := guides.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, topic := range lib.Topics() {
		if per[topic.ID] < 20 {
			t.Errorf("%s: only %d questions", topic.ID, per[topic.ID])
		}
	}
	if len(per) != len(lib.Topics())+1 {
		t.Errorf("%d labels for %d topics and chatter", len(per), len(lib.Topics()))
	}
}

// A question the search has learnt by heart measures nothing.
func TestQuestionsAreKeptApart(t *testing.T) {
	lib, err := guides.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	chatter, err := os.ReadFile("data/chatter.txt")
	if err != nil {
		t.Fatal(err)
	}
	learnt := map[string]bool{}
	for line := range strings.SplitSeq(string(chatter), "\n") {
		learnt[bare(line)] = true
	}
	for _, topic := range lib.Topics() {
		for _, phrase := range topic.Asked {
			learnt[bare(phrase)] = true
		}
	}
	for _, q := range questions(t, "dev.tsv", "held.tsv") {
		if words := bare(q.text); words != "" && learnt[words] {
			t.Errorf("%q is both asked and learnt", q.text)
		}
	}
}

func bare(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return !strings.ContainsRune("abcdefghijklmnopqrstuvwxyz0123456789", r)
	}), " ")
}
