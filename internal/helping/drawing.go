package helping

import (
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/pictures"
	"shopfloat/internal/telling"
)

// lessonTimes is how often a question brings its drawing by itself to somebody new: in their first
// two openings and closings.
const lessonTimes = 2

// Lessons are how often, by the name of the answer to "What is this?".
func Lessons() map[string]int {
	list := map[string]int{}
	for what := range drawings {
		list[what] = lessonTimes
	}
	return list
}

// DrawingFor is the drawing that answers "What is this?" better than words, by the name of that
// answer; empty for none.
func DrawingFor(what string) string { return drawings[what] }

// AsksRefused reports whether a question is about the box for refused notes, by the same name.
func AsksRefused(what string) bool { return drawings[what] == pictures.RefusedBox }

var drawings = map[string]string{
	"what.loaded": pictures.NoteBox, "what.inside": pictures.NoteBox, "what.left": pictures.NoteBox,
	"what.tray": pictures.RefusedBox, "what.beside": pictures.RefusedBox, "what.paid": pictures.PrintedSlip,
}

// Teach gives the drawing that comes by itself with a question, once in a dialog, and notes that
// it came; empty for none.
func Teach(s *chat.State, what string) string {
	d := drawings[what]
	if s.Lessons[what] == 0 || slices.Contains(s.Draft.Taught, d) {
		return ""
	}
	s.Lessons[what]--
	s.Draft.Taught = append(s.Draft.Taught, d)
	return d
}

// Drawn is a drawing for the machine at hand, which there must be.
func Drawn(t *telling.Teller, name string) chat.Reply {
	var kinds []string
	for _, b := range t.Kit.Boxes {
		kinds = append(kinds, t.V.Kind(b.Face))
	}
	return chat.Reply{Body: []chat.Block{{Text: t.V.Say("drawing.caption." + name)}},
		File: &chat.File{Name: name + ".png", Drawing: pictures.Draw(t.V, name, kinds)}}
}
