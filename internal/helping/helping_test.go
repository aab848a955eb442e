package helping_test

import (
	"strings"
	"testing"

	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/helping"
	"shopfloat/internal/pictures"
)

// Help is one screen for each role: what comes next stands first with its button, a fault may just
// be said, and there are at most eight lines, also of each further page.
func TestHelp(t *testing.T) {
	for _, name := range []string{"owner", "staff1"} {
		f := floor.New(t, dialogs.New)
		said := f.Says(name, "help")
		floor.Expect(t, said, "Next: opening|Write what you do: open, top up|Something wrong? Just say it|"+
			"[Start opening]", "")
		if (strings.Contains(said, "settings")) != (name == "owner") {
			t.Errorf("%s:\n%s", name, said)
		}
		for _, page := range []string{"", " more", " 2", " 3", " 99"} {
			f.Says(name, "help"+page)
			lines := 0
			for _, b := range f.Last.Replies[0].Body {
				lines += strings.Count(b.Text, "\n") + 1
			}
			if lines > 8 {
				t.Errorf("%s, help%s: %d lines\n%s", name, page, lines, floor.Said(f.Last.Replies[0].Body...))
			}
		}
	}
}

// Every drawing comes by itself to somebody new, and has an answer to "What is this?" that it is for.
func TestLessons(t *testing.T) {
	seen := map[string]bool{}
	for what, times := range helping.Lessons() {
		if seen[helping.DrawingFor(what)] = true; times != 2 {
			t.Errorf("%s comes %d times", what, times)
		}
	}
	for _, name := range pictures.Drawings {
		if !seen[name] {
			t.Errorf("%s never comes by itself", name)
		}
	}
	for what, want := range map[string]string{
		"what.loaded": pictures.NoteBox, "what.beside": pictures.RefusedBox,
		"what.paid": pictures.PrintedSlip, "what.review": "", "": ""} {
		if got := helping.DrawingFor(what); got != want {
			t.Errorf("%s: %q", what, got)
		}
	}
}
