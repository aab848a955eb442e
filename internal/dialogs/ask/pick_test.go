package ask_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// listed makes a pick of so many things, which keeps what was chosen where a
// test can see it.
func listed(n *int, chosen *string) ask.Pick {
	return ask.Pick{
		Head: ask.Asking("ask.how"), What: "what.move",
		Take: func(c *engine.Talk, value string) { *chosen = value; c.GoTo("done") },
		Options: func(*engine.Talk) (list []ask.Option) {
			for i := range *n {
				list = append(list, ask.Option{Label: fmt.Sprintf("Thing %d", i), Value: "v-" + strconv.Itoa(i)})
			}
			return list
		},
	}
}

func onStage(t *testing.T, p ask.Pick) *floor.Floor {
	t.Helper()
	return staged(t, "list", map[string]engine.Screen{"list": p.Screen(), "done": floor.Screen("chosen", nil)})
}

// The last of a list can be chosen, and the one after it cannot; nor can what
// was there when the card was made and is not any more.
func TestPickTakesWhatIsThere(t *testing.T) {
	n, chosen := 3, ""
	for choice, taken := range map[string]bool{
		"v-0": true, "v-2": true, "v-3": false, "v--1": false, "v-": false, "v-02": false, "v-2.": false,
	} {
		chosen = ""
		f := onStage(t, listed(&n, &chosen))
		if f.Chooses("staff1", choice); chosen == choice != taken || (stepOf(f) == "done") != taken {
			t.Errorf("%s: %q at %s", choice, chosen, stepOf(f))
		}
	}
	f := onStage(t, listed(&n, &chosen))
	n = 1
	if f.Taps("staff1", "Thing 2"); stepOf(f) != "list" {
		t.Error("what is not there any more was taken")
	}
}

// The labels of the newest card may be typed, those of an earlier one where a pick says so.
func TestPickTyped(t *testing.T) {
	n, chosen := 3, ""
	for _, words := range []bool{false, true} {
		chosen = ""
		p := listed(&n, &chosen)
		if words {
			p = p.Worded()
		}
		f := onStage(t, p)
		if f.Says("staff1", "thing 2"); chosen != "v-2" {
			t.Errorf("words %t: %q", words, chosen)
		}
	}
	heard := ""
	p := listed(&n, &chosen).Worded()
	p.Answer = func(_ *engine.Talk, s string) bool { heard = s; return true }
	f := onStage(t, p)
	if f.Says("staff1", "Thing 1"); heard != "" || chosen != "v-1" {
		t.Errorf("a label was heard as other words: %q", heard)
	}
	f = onStage(t, p)
	if f.Says("staff1", "thing 9"); heard != "thing 9" || stepOf(f) != "list" {
		t.Errorf("heard %q at %s", heard, stepOf(f))
	}
}

// A long list comes a page at a time, each thing on one page, and "more" ends
// with the last.
func TestPickPaged(t *testing.T) {
	n, chosen := 2*ask.PageSize+1, ""
	p := listed(&n, &chosen)
	p.Paged = true
	f := onStage(t, p)
	var seen []string
	pages := 0
	for range n {
		pages++
		f.Step("staff1", chat.Input{Kind: chat.Redraw}, "(shown again)")
		for _, c := range f.Choices("staff1") {
			if strings.HasPrefix(c, "v-") {
				seen = append(seen, c)
			}
		}
		if !slices.Contains(f.Choices("staff1"), "more") {
			break
		}
		f.Chooses("staff1", "more")
	}
	want := make([]string, n)
	for i := range want {
		want[i] = "v-" + strconv.Itoa(i)
	}
	if pages != 3 || !slices.Equal(seen, want) {
		t.Errorf("%d pages: %v", pages, seen)
	}
	if f.Chooses("staff1", "v-0"); chosen != "v-0" { // a thing of an earlier page is still there
		t.Errorf("chose %q", chosen)
	}
}

// Where there is nothing to choose from, the pick says what happens.
func TestPickOfNothing(t *testing.T) {
	n := 0
	p := listed(&n, new(string))
	p.None = engine.GoBack("done")
	if f := onStage(t, p); stepOf(f) != "done" {
		t.Errorf("at %s", stepOf(f))
	}
}
