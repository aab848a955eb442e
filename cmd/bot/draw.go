package main

import (
	"bytes"

	"shopfloat/internal/advice"
	"shopfloat/internal/chart"
)

// drawPNG makes a picture of a chart.
func drawPNG(c advice.Chart) ([]byte, error) {
	var b bytes.Buffer
	err := chart.PNG(&b, c)
	return b.Bytes(), err
}
