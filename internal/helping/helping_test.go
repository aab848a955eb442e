package helping_test

import (
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/chat"
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

// A drawing comes twice to somebody new: once in a dialog, however many of its questions it
// answers, and never to somebody who was taught or for a question that words answer.
func TestTeach(t *testing.T) {
	s := chat.State{Lessons: helping.Lessons()}
	for i, x := range []struct {
		what, want string
		left       int // times that the question still brings it
	}{
		{"what.loaded", pictures.NoteBox, 1},
		{"what.loaded", "", 1},
		{"what.left", "", 2}, // the same drawing, in the same dialog
		{"what.tray", pictures.RefusedBox, 1},
		{"what.review", "", 0},
		{"new", "", 0},
		{"what.loaded", pictures.NoteBox, 0},
		{"new", "", 0},
		{"what.loaded", "", 0},
		{"what.left", pictures.NoteBox, 1},
	} {
		if x.what == "new" {
			s.Draft.Taught = nil
			continue
		}
		if got := helping.Teach(&s, x.what); got != x.want || s.Lessons[x.what] != x.left {
			t.Errorf("%d: %s brings %q and %d times more, want %q and %d", i, x.what, got, s.Lessons[x.what],
				x.want, x.left)
		}
	}
	if taught := (chat.State{}); helping.Teach(&taught, "what.loaded") != "" {
		t.Error("somebody is taught who need not be")
	}
}

// A drawing is of the boxes of the machine at hand, from the top, with what it shows below.
func TestDrawn(t *testing.T) {
	f := floor.New(t, dialogs.New)
	tell := teller(f, "staff1")
	for name, caption := range map[string]string{
		pictures.NoteBox: "A note box.", pictures.RefusedBox: "Where refused notes lie.",
		pictures.PrintedSlip: "Which line of the slip to type."} {
		r := helping.Drawn(tell, name)
		if r.File == nil || r.File.Name != name+".png" || r.File.Drawing == nil {
			t.Fatalf("%s: %+v", name, r.File)
		}
		floor.Expect(t, floor.Said(r.Body...), caption+" Write show me to see it again.", "drawing.")
		var kinds []string
		for _, p := range r.File.Drawing.Parts {
			if p.Text == "50s" || p.Text == "20s" || p.Text == "10s" {
				kinds = append(kinds, p.Text)
			}
		}
		if got := strings.Join(slices.Compact(kinds), " "); got != "50s 20s 10s" {
			t.Errorf("%s shows %q", name, got)
		}
	}
}
