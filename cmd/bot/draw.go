package main

import (
	"bytes"

	"shopfloat/internal/advice"
	"shopfloat/internal/chart"
	"shopfloat/internal/chat"
	"shopfloat/internal/pictures"
)

// drawPNG makes a picture of a chart.
func drawPNG(c advice.Chart) ([]byte, error) {
	var b bytes.Buffer
	err := chart.PNG(&b, c)
	return b.Bytes(), err
}

// drawSheet makes a picture of graphs.
func drawSheet(s pictures.Sheet) ([]byte, error) {
	var b bytes.Buffer
	err := chart.SheetPNG(&b, s)
	return b.Bytes(), err
}

// drawFile makes the picture that goes with a message.
func drawFile(f *chat.File) ([]byte, error) {
	if f.Sheet != nil {
		return drawSheet(*f.Sheet)
	}
	return drawPNG(*f.Chart)
}
