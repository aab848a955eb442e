package helping

import (
	"maps"

	"shopfloat/internal/chat"
	"shopfloat/internal/pictures"
	"shopfloat/internal/telling"
)

// lessonTimes is how often each drawing comes by itself to somebody new: in their first two
// openings and closings, the note box in both.
var lessonTimes = map[string]int{pictures.NoteBox: 4, pictures.RefusedBox: 2, pictures.PrintedSlip: 2}

// Lessons are the drawings that come by themselves to somebody new, and how often.
func Lessons() map[string]int {
	return maps.Clone(lessonTimes)
}

// DrawingFor is the drawing that answers "What is this?" better than words, by the name of that
// answer; empty for none.
func DrawingFor(what string) string { return drawings[what] }

var drawings = map[string]string{
	"what.loaded": pictures.NoteBox, "what.inside": pictures.NoteBox, "what.left": pictures.NoteBox,
	"what.tray": pictures.RefusedBox, "what.beside": pictures.RefusedBox, "what.paid": pictures.PrintedSlip,
}

// Drawn is a drawing for the machine at hand.
func Drawn(t *telling.Teller, name string) chat.Reply {
	var kinds []string
	if t.Kit != nil {
		for _, b := range t.Kit.Boxes {
			kinds = append(kinds, t.V.Kind(b.Face))
		}
	}
	return chat.Reply{Body: []chat.Block{{Text: t.V.Say("drawing.caption." + name)}},
		File: &chat.File{Name: name + ".png", Drawing: pictures.Draw(t.V, name, kinds)}}
}
