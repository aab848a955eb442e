package chart

import (
	"bytes"

	"shopfloat/internal/advice"
	"shopfloat/internal/chat"
	"shopfloat/internal/pictures"
)

// Drawn makes a picture of a chart.
func Drawn(c advice.Chart) ([]byte, error) {
	var b bytes.Buffer
	err := PNG(&b, c)
	return b.Bytes(), err
}

// DrawnSheet makes a picture of graphs.
func DrawnSheet(s pictures.Sheet) ([]byte, error) {
	var b bytes.Buffer
	err := SheetPNG(&b, s)
	return b.Bytes(), err
}

// DrawnFile makes the picture that goes with a message.
func DrawnFile(f *chat.File) ([]byte, error) {
	if f.Sheet != nil {
		return DrawnSheet(*f.Sheet)
	}
	if f.Drawing != nil {
		var b bytes.Buffer
		err := DrawingPNG(&b, *f.Drawing)
		return b.Bytes(), err
	}
	return Drawn(*f.Chart)
}
