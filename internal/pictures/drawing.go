package pictures

// Drawing shows a thing and not figures: what lies where, and what to type. It is made of plain
// shapes of our own, of no maker's machine, and reads well in grey.
type Drawing struct {
	Title string `json:"title"`
	High  int    `json:"high"` // of [DrawingWide]
	Parts []Part `json:"parts"`
}

// DrawingWide is the width that places in a drawing are told in.
const DrawingWide = 1080

// Shape is how a part of a drawing looks.
type Shape int

// The shapes. Of an arrow and a line X and Y are where it begins, W and H how far it goes.
const (
	Outline Shape = iota // a box with a thick edge
	Light                // a light box with an edge
	Dark                 // a dark box; its words are white
	Notes                // a stack of notes, lying or standing
	Arrow
	Line
	Words // without a box, from X and Y on
	Loud  // the same, larger
	Frame // a thick frame around what counts
)

// Part is one shape with words in it.
type Part struct {
	Shape Shape  `json:"shape"`
	X     int    `json:"x"`
	Y     int    `json:"y"`
	W     int    `json:"w,omitempty"`
	H     int    `json:"h,omitempty"`
	Text  string `json:"text,omitempty"`
}

// Speaker says a sentence of the catalogue.
type Speaker interface {
	Say(id string, fill ...any) string
}

// The drawings there are.
const (
	NoteBox     = "note-box"
	RefusedBox  = "refused"
	PrintedSlip = "slip"
)

// Drawings are all of them, in the order they are needed in a day.
var Drawings = []string{NoteBox, RefusedBox, PrintedSlip}

// Draw makes a drawing by its name, for a machine with such kinds of note from the top box down.
func Draw(v Speaker, name string, kinds []string) *Drawing {
	switch name {
	case NoteBox:
		return noteBox(v, kinds)
	case RefusedBox:
		return refused(v, kinds)
	case PrintedSlip:
		return slip(v, kinds)
	}
	return nil
}

// boxesMax is how many note boxes are drawn; of more, the first ones.
const boxesMax = 4

// cabinet is the open machine from the front: the boxes one above the other. It gives the places
// of the boxes, too.
func cabinet(kinds []string, x, y, wide, high, gap int) (parts []Part, places []int) {
	kinds = kinds[:min(len(kinds), boxesMax)]
	for i, kind := range kinds {
		at := y + i*(high+gap)
		places = append(places, at)
		parts = append(parts, Part{Shape: Light, X: x, Y: at, W: wide, H: high, Text: kind})
	}
	return parts, places
}

// noteBox shows what a note box is: one for each kind, and that the notes in it are counted.
func noteBox(v Speaker, kinds []string) *Drawing {
	const high, gap, top = 150, 30, 190
	boxes, places := cabinet(kinds, 90, top, 330, high, gap)
	n := len(boxes)
	bottom := top + n*(high+gap)
	d := &Drawing{Title: v.Say("drawing.note-box"), High: bottom + 250,
		Parts: append([]Part{{Shape: Outline, X: 50, Y: top - 40, W: 410, H: bottom - top + 50}}, boxes...)}
	out := places[0]
	d.Parts = append(d.Parts,
		Part{Shape: Arrow, X: 430, Y: out + high/2, W: 120, H: 0},
		Part{Shape: Light, X: 570, Y: out, W: 430, H: high},
		Part{Shape: Notes, X: 600, Y: out + 25, W: 370, H: high - 50},
		Part{Shape: Words, X: 570, Y: out + high + 60, Text: v.Say("drawing.note-box.pull")},
		Part{Shape: Loud, X: 570, Y: out + high + 115, Text: v.Say("drawing.note-box.count")},
		Part{Shape: Words, X: 570, Y: out + high + 170, Text: v.Say("drawing.note-box.heavy")},
		Part{Shape: Words, X: 50, Y: bottom + 80, Text: v.Say("drawing.note-box.one")},
		Part{Shape: Words, X: 50, Y: bottom + 135, Text: v.Say("drawing.note-box.order")},
		Part{Shape: Words, X: 50, Y: bottom + 190, Text: v.Say("drawing.yours")})
	return d
}

// refused shows where refused notes lie: in a box of their own, and on the way out.
func refused(v Speaker, kinds []string) *Drawing {
	const high, gap, top = 120, 30, 330
	boxes, _ := cabinet(kinds, 90, top, 300, high, gap)
	bottom := top + len(boxes)*(high+gap)
	d := &Drawing{Title: v.Say("drawing.refused"), High: bottom + 310,
		Parts: append([]Part{{Shape: Outline, X: 50, Y: 150, W: 480, H: bottom + 120 - 150}}, boxes...)}
	d.Parts = append(d.Parts,
		Part{Shape: Line, X: 450, Y: bottom - gap, W: 0, H: -(bottom - gap - 235)}, // the way of the notes
		Part{Shape: Dark, X: 90, Y: 190, W: 380, H: 70, Text: v.Say("drawing.refused.out")},
		Part{Shape: Dark, X: 90, Y: bottom, W: 380, H: 90, Text: v.Say("drawing.refused.box")},
		Part{Shape: Arrow, X: 690, Y: 225, W: -190, H: 0},
		Part{Shape: Loud, X: 710, Y: 240, Text: v.Say("drawing.refused.there")},
		Part{Shape: Arrow, X: 690, Y: bottom + 45, W: -190, H: 0},
		Part{Shape: Loud, X: 710, Y: bottom + 60, Text: v.Say("drawing.refused.here")},
		Part{Shape: Words, X: 50, Y: bottom + 190, Text: v.Say("drawing.refused.what")},
		Part{Shape: Words, X: 50, Y: bottom + 245, Text: v.Say("drawing.yours")})
	return d
}

// slip shows which line of a printed slip is typed. It is no machine's slip: they all differ.
func slip(v Speaker, kinds []string) *Drawing {
	kinds = kinds[:min(len(kinds), boxesMax)]
	const row, top, wide = 80, 330, 560
	d := &Drawing{Title: v.Say("drawing.slip"), High: top + (len(kinds)+1)*row + 330}
	bottom := top + (len(kinds)+1)*row
	d.Parts = append(d.Parts, Part{Shape: Outline, X: 50, Y: 150, W: wide, H: bottom + 60 - 150},
		Part{Shape: Words, X: 190, Y: 215, Text: v.Say("drawing.slip.head")},
		Part{Shape: Line, X: 90, Y: 240, W: wide - 80, H: 0},
		Part{Shape: Words, X: 240, Y: 300, Text: v.Say("drawing.slip.in")},
		Part{Shape: Words, X: 400, Y: 300, Text: v.Say("drawing.slip.paid")})
	typed := ""
	for i, kind := range kinds {
		y, paid := top+i*row+50, []string{"28", "90", "120", "15"}[i]
		typed += " " + paid
		d.Parts = append(d.Parts, Part{Shape: Words, X: 90, Y: y, Text: kind},
			Part{Shape: Words, X: 260, Y: y, Text: []string{"40", "150", "200", "30"}[i]},
			Part{Shape: Words, X: 430, Y: y, Text: paid})
	}
	d.Parts = append(d.Parts, Part{Shape: Frame, X: 390, Y: top - 80, W: 200, H: len(kinds)*row + 80},
		Part{Shape: Arrow, X: 720, Y: top + 50, W: -110, H: 0},
		Part{Shape: Loud, X: 740, Y: top + 30, Text: v.Say("drawing.slip.type")},
		Part{Shape: Loud, X: 740, Y: top + 95, Text: typed[1:]},
		Part{Shape: Words, X: 90, Y: bottom - 10, Text: v.Say("drawing.slip.more")},
		Part{Shape: Words, X: 50, Y: bottom + 130, Text: v.Say("drawing.slip.may")},
		Part{Shape: Words, X: 50, Y: bottom + 185, Text: v.Say("drawing.slip.money")},
		Part{Shape: Words, X: 50, Y: bottom + 240, Text: v.Say("drawing.yours")})
	return d
}
