package chat

import (
	"shopfloat/internal/advice"
	"shopfloat/internal/pictures"
)

// File goes with a reply, whose text stands under it, see [CaptionMax]. It is
// either bytes as they are, or a picture that whoever sends it has to draw:
// drawing takes longer than a step may.
type File struct {
	Name  string        `json:"name"`            // as the person sees it, like advice.png
	Data  []byte        `json:"data,omitempty"`  // its content
	Chart *advice.Chart `json:"chart,omitempty"` // what to draw, as a PNG

	Sheet   *pictures.Sheet   `json:"sheet,omitempty"`   // likewise
	Drawing *pictures.Drawing `json:"drawing,omitempty"` // likewise
}

// Drawn reports whether the file is a picture that has to be drawn.
func (f *File) Drawn() bool { return f.Chart != nil || f.Sheet != nil || f.Drawing != nil }

// CaptionMax is how many characters of text may stand under a file.
const CaptionMax = 1024
