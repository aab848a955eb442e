package phrases

import "testing"

func TestParse(t *testing.T) {
	got, err := parse("# of nothing\n\nolder\tGood day \nterse\tok\n")
	if err != nil || len(got) != 2 || got[0] != (Phrase{Voice: "older", Text: "Good day"}) {
		t.Errorf("%v, %v", got, err)
	}
	for _, bad := range []string{"older", "\tok", "older\t \n"} {
		if _, err := parse(bad); err == nil {
			t.Errorf("%q is taken for a phrase", bad)
		}
	}
}

// What is said for one thing is put together, from whatever folder.
func TestReadPutsTogether(t *testing.T) {
	all, err := Read()
	if err != nil {
		t.Fatal(err)
	}
	type key struct {
		id    string
		guide bool
	}
	seen := map[key]bool{}
	for _, s := range all {
		k := key{s.ID, s.Guide}
		if seen[k] || len(s.Phrases) == 0 {
			t.Errorf("%v stands twice, or has no phrases", k)
		}
		seen[k] = true
	}
	for _, k := range []key{{"open", false}, {"note-jam", true}, {Danger + "fire", false}, {Chatter, false}} {
		if !seen[k] {
			t.Errorf("nothing is said for %v", k)
		}
	}
}

func TestDigestIsOfAll(t *testing.T) {
	one, err := Digest()
	two, again := Digest()
	if err != nil || again != nil || one != two || len(one) != 64 {
		t.Errorf("%q, %q, %v, %v", one, two, err, again)
	}
}
