package dialogs_test

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/hearing"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// sentences are those that nothing was learnt from: what people ask for and what goes wrong.
func sentences(t *testing.T) (out []string) {
	t.Helper()
	for _, name := range []string{"commands", "guides"} {
		src, err := os.ReadFile(filepath.Join("..", "hearing", "testdata", "held", name+".tsv"))
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(src)) {
			if f := strings.Split(strings.TrimRight(line, "\n"), "\t"); len(f) > 2 && !strings.HasPrefix(line, "#") {
				out = append(out, f[2])
			}
		}
	}
	return out
}

// occasions are where somebody may say something; in those with a dialog it has figures.
var occasions = map[string]string{
	"closed":   "",
	"open":     openDay,
	"a count":  openDay + "staff1: close 12\n",
	"a review": openDay + "staff1: close 12 59 80\nstaff1: none\n",
	"a guide":  openDay + "staff1: guides; [Notes are\n",
	"a fork":   openDay + "staff1: close 12; open\n",
}

// What somebody says ends in the chat where it was heard to, and in a count it changes no
// figure and starts no guide if it has numbers.
func TestChatDoesAsHeard(t *testing.T) {
	all, every := sentences(t), 12/checks.Size(t, 1, 12, 12)
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	n, elsewhere := 0, 0
	for _, name := range slices.Sorted(maps.Keys(occasions)) {
		f := newFloor(t)
		f.Play(occasions[name])
		st, facts := f.States[floor.ChatOf("staff1")], f.Facts("staff1")
		sit := hearing.At(&facts.Shop.Settings, facts.Shop.Machine(1), when.WordsOf(catalogue.In("en", "IE",
			"EUR").List), "2026-11-25")
		for _, text := range all {
			if n++; n%every != 0 {
				continue
			}
			d := f.Engine.Guiding.Ear().Understand(text, sit)
			if d.Act == hearing.Alarm {
				continue
			}
			res := f.Engine.Step(st, chat.Input{Kind: chat.Text, Text: text, At: f.Now,
				Chat: floor.ChatOf("staff1")}, facts)
			if st.Flow != "" {
				unmoved(t, name, text, st, res)
			} else if !ends(f.Engine, d, res) {
				elsewhere++
				t.Logf("%s: %q was heard as %v, and ended with flow %q, guide %+v: %s", name, text, d.Names(),
					res.State.Flow, res.State.Walk, repliedWith(res))
			}
		}
	}
	if n < 1800 {
		t.Errorf("only %d", n)
	}
	// The words of a dialog or of a guide's step that is open may be meant by a sentence, too.
	if most := n / every / 50; elsewhere > most {
		t.Errorf("%d ended elsewhere, at most %d may", elsewhere, most)
	}
}

func repliedWith(res chat.Result) string {
	if len(res.Replies) == 0 {
		return ""
	}
	return res.Replies[0].Body[0].Text
}

// unmoved checks that a sentence in a dialog changed no figure and recorded nothing.
func unmoved(t *testing.T, name, text string, st chat.State, res chat.Result) {
	t.Helper()
	if len(res.Records) > 0 {
		t.Errorf("%s: %q recorded %+v", name, text, res.Records)
	}
	if strings.ContainsAny(text, "0123456789") && res.State.Walk != nil && st.Walk == nil {
		t.Errorf("%s: %q has numbers and began a guide", name, text)
	}
	if res.State.Flow != st.Flow {
		return // it asked for something else, and was asked first
	}
	for q, a := range st.Draft.Answers {
		now := res.State.Draft.Answers[q]
		for i, count := range a.Counts {
			if count >= 0 && (now == nil || now.Counts[i] != count) && !strings.Contains(repliedWith(res), name) &&
				!strings.ContainsAny(text, "0123456789") {
				t.Errorf("%s: %q changed %v to %+v", name, text, a.Counts, now)
			}
		}
	}
}

// ends reports whether a step ended where a sentence was heard to.
func ends(e *engine.Engine, d hearing.Decision, res chat.Result) bool {
	text := repliedWith(res)
	if d.Act != hearing.Do {
		return d.Act == hearing.Offer && strings.Contains(text, "Which of these") ||
			strings.Contains(text, "nothing close") || strings.Contains(text, "Nothing to do") ||
			strings.Contains(text, "Next:") || text == "" || strings.Contains(text, "welcome")
	}
	r := d.Readings[0]
	if r.Kind == hearing.Guide {
		return res.State.Walk != nil && res.State.Walk.Guide == r.ID
	}
	name, _ := r.Command("2026-11-25")
	cmd := e.Named(name)
	switch {
	case r.ID == hearing.Now || cmd == nil:
		return true
	case !e.Allows("staff", name):
		return strings.Contains(text, "not part of your role") || strings.Contains(text, "manager")
	case cmd.Does == engine.TellsOnly:
		return !strings.Contains(text, "Which of these") && !strings.Contains(text, "nothing close")
	}
	return res.State.Flow == name || !strings.Contains(text, "Which of these") && text != ""
}
