package search_test

import (
	"os"
	"strings"
	"testing"

	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
)

func newIndex(t testing.TB) *search.Index {
	t.Helper()
	lib, err := guides.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	var topics []search.Topic
	for _, id := range lib.IDs() {
		g, _ := lib.Guide(id)
		topics = append(topics, search.Topic{ID: id, Asked: g.Asked})
	}
	ix, err := search.New(topics)
	if err != nil {
		t.Fatal(err)
	}
	return ix
}

func TestRates(t *testing.T) {
	ix := newIndex(t)
	for _, half := range strings.Fields(os.Getenv("HALVES")) {
		src, err := os.ReadFile("../../../testdata/questions/" + half + ".tsv")
		if err != nil {
			t.Fatal(err)
		}
		var n, top1, top3, chat, answered, clear, clearWrong int
		for _, line := range strings.Split(strings.TrimSpace(string(src)), "\n") {
			want, q, _ := strings.Cut(line, "\t")
			a := ix.Search(q)
			if want == "none" {
				chat++
				if len(a.IDs) > 0 {
					answered++
					if half == os.Getenv("SHOW") {
						t.Logf("CHAT %q -> %v", q, a)
					}
				}
				continue
			}
			n++
			if a.Clear {
				clear++
			}
			ok1 := len(a.IDs) > 0 && a.IDs[0] == want
			if ok1 {
				top1++
			} else if a.Clear {
				clearWrong++
			}
			ok3 := false
			for _, id := range a.IDs {
				ok3 = ok3 || id == want
			}
			if ok3 {
				top3++
			}
			if !ok1 && half == os.Getenv("SHOW") {
				t.Logf("%v %s %q -> %v", ok3, want, q, a)
			}
		}
		t.Logf("%s: top1 %.1f%% top3 %.1f%% of %d; chatter answered %.1f%% of %d; clear %.1f%% clearwrong %d", half,
			100*float64(top1)/float64(n), 100*float64(top3)/float64(n), n, 100*float64(answered)/float64(chat), chat, 100*float64(clear)/float64(n), clearWrong)
	}
}

func TestROC(t *testing.T) {
	ix := newIndex(t)
	for _, v := range []float64{.3, .4, .5, .6, .7, .8, .9} {
		search.AnyMin(v)
		t.Logf("%.2f", v)
		src, _ := os.ReadFile("../../../testdata/questions/dev.tsv")
		var n, t1, t3, c, ca int
		for _, line := range strings.Split(strings.TrimSpace(string(src)), "\n") {
			want, q, _ := strings.Cut(line, "\t")
			a := ix.Search(q)
			if want == "none" {
				c++
				if len(a.IDs) > 0 {
					ca++
				}
				continue
			}
			n++
			for k, id := range a.IDs {
				if id == want {
					t3++
					if k == 0 {
						t1++
					}
				}
			}
		}
		t.Logf("%.2f top1 %d top3 %d of %d chat %d of %d", v, t1, t3, n, ca, c)
	}
}
