package dialogs

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/books"
)

// listed makes a pick of so many things that remembers what was chosen.
func listed(n *int) pick {
	return pick{
		head: asking("ask.how"), what: "what.move", take: remembered("it", "done"),
		options: func(*talk) (list []option) {
			for i := range *n {
				list = append(list, option{label: fmt.Sprintf("Thing %d", i), value: "v-" + strconv.Itoa(i)})
			}
			return list
		},
	}
}

func onStage(t *testing.T, p pick) *stage {
	t.Helper()
	return staged(t, "list", map[string]screen{"list": p.screen(), "done": {ask: asking("ask.how")}})
}

// The last of a list can be chosen, and the one after it cannot; nor can what
// was there when the card was made and is not any more.
func TestPickTakesWhatIsThere(t *testing.T) {
	n := 3
	for choice, taken := range map[string]bool{
		"v-0": true, "v-2": true, "v-3": false, "v--1": false, "v-": false, "v-02": false, "v-2.": false,
	} {
		g := onStage(t, listed(&n))
		if g.taps(choice); g.st.Draft.Choices["it"] == choice != taken || (g.st.Step == "done") != taken {
			t.Errorf("%s: %v at %s", choice, g.st.Draft.Choices, g.st.Step)
		}
	}
	g := onStage(t, listed(&n))
	if n = 1; true {
		g.taps("v-2")
	}
	if g.st.Step != "list" {
		t.Error("what is not there any more was taken")
	}
}

// Labels may be typed only where a pick says so: where choosing books at once,
// words do not.
func TestPickTyped(t *testing.T) {
	n := 3
	for _, words := range []bool{false, true} {
		p := listed(&n)
		p.words = words
		g := onStage(t, p)
		if g.types("thing 2"); (g.st.Draft.Choices["it"] == "v-2") != words {
			t.Errorf("words %t: %v", words, g.st.Draft.Choices)
		}
	}
	p := listed(&n)
	heard := ""
	p.words, p.answer = true, func(_ *talk, s string) bool { heard = s; return true }
	g := onStage(t, p)
	if g.types("Thing 1"); heard != "" || g.st.Draft.Choices["it"] != "v-1" {
		t.Errorf("a label was heard as other words: %q", heard)
	}
	g = onStage(t, p)
	if g.types("thing 9"); heard != "thing 9" || g.st.Step != "list" {
		t.Errorf("heard %q at %s", heard, g.st.Step)
	}
}

// A long list comes a page at a time, each thing on one page, and "more" ends
// with the last.
func TestPickPaged(t *testing.T) {
	n := 2*pageSize + 1
	p := listed(&n)
	p.paged = true
	g := onStage(t, p)
	var seen []string
	pages := 0
	for range n {
		pages++
		_, choices := g.does(Input{Kind: Redraw})
		for _, c := range choices {
			if strings.HasPrefix(c, "v-") {
				seen = append(seen, c)
			}
		}
		if !slices.Contains(choices, "more") {
			break
		}
		g.taps("more")
	}
	want := make([]string, n)
	for i := range want {
		want[i] = "v-" + strconv.Itoa(i)
	}
	if pages != 3 || !slices.Equal(seen, want) {
		t.Errorf("%d pages: %v", pages, seen)
	}
	if g.taps("v-0"); g.st.Draft.Choices["it"] != "v-0" { // a thing of an earlier page is still there
		t.Errorf("chose %v", g.st.Draft.Choices)
	}
}

// Where there is nothing to choose from, the pick says what happens.
func TestPickOfNothing(t *testing.T) {
	n := 0
	p := listed(&n)
	p.none = goBack("done")
	if g := onStage(t, p); g.st.Step != "done" {
		t.Errorf("at %s", g.st.Step)
	}
}

// "Back" that is typed at the list of machines leads nowhere that is not there.
func TestBackAtTheMachines(t *testing.T) {
	g := staged(t, "which", switchFlow().screens)
	other := *g.facts.Shop
	other.ID, other.Name = 2, "Corner"
	g.facts.Ask.Sites = func() []Site {
		return []Site{{Shop: g.facts.Shop, Machine: g.machine}, {Shop: &other, Machine: books.New(9)}}
	}
	c := g.engine.talk(g.st, Input{At: g.now}, g.facts)
	c.begin("move")
	g.st = c.State
	second := func(choice string) bool { return strings.HasPrefix(choice, "s-2.") }
	if said, choices := g.types("back"); g.st.Step != "which" || !slices.ContainsFunc(choices, second) {
		t.Errorf("at %q: %v\n%s", g.st.Step, choices, said)
	}
}
