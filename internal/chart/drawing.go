package chart

import (
	"fmt"
	"image/png"
	"io"
	"math"

	"github.com/go-analyze/charts/chartdraw"
	"github.com/go-analyze/charts/chartdraw/drawing"

	"shopfloat/internal/pictures"
)

// drawingHigh bounds the height of a drawing.
const drawingHigh = 2400

// DrawingPNG draws plain shapes. One without parts or too high is an error.
func DrawingPNG(w io.Writer, d pictures.Drawing) error {
	if len(d.Parts) == 0 || d.High <= 0 || d.High > drawingHigh {
		return fmt.Errorf("drawing of %d parts, %d high", len(d.Parts), d.High)
	}
	r := sheetOf(d.High)
	write(r, d.Title, left, titleTop+20, titleSize+2)
	for _, p := range d.Parts {
		shape(r, p)
	}
	img, err := saved(r)
	if err != nil {
		return err
	}
	best := png.Encoder{CompressionLevel: png.BestCompression}
	return best.Encode(w, img)
}

// Letters of drawings, in points: read at arm's length.
const wordSize, loudSize = 11, 14

// thick is the width of an edge, in pixels.
const thick = 6

func shape(r chartdraw.Renderer, p pictures.Part) {
	switch p.Shape {
	case pictures.Outline:
		filled(r, p.X, p.Y, p.W, p.H, ink)
		filled(r, p.X+thick, p.Y+thick, p.W-2*thick, p.H-2*thick, drawing.ColorWhite)
	case pictures.Light:
		filled(r, p.X, p.Y, p.W, p.H, ink)
		filled(r, p.X+3, p.Y+3, p.W-6, p.H-6, drawing.Color{R: 0xee, G: 0xee, B: 0xee, A: 0xff})
		within(r, p, ink)
	case pictures.Dark:
		filled(r, p.X, p.Y, p.W, p.H, paid)
		within(r, p, drawing.ColorWhite)
	case pictures.Notes:
		for x := p.X; x+10 <= p.X+p.W; x += 22 {
			filled(r, x, p.Y, 10, p.H, load)
		}
	case pictures.Arrow:
		arrow(r, p)
	case pictures.Line:
		filled(r, p.X, p.Y+min(p.H, 0), max(p.W, thick), max(abs(p.H), 3), ink)
	case pictures.Words:
		write(r, p.Text, p.X, p.Y, wordSize)
	case pictures.Loud:
		write(r, p.Text, p.X, p.Y, loudSize)
	case pictures.Frame:
		for _, edge := range [][4]int{{0, 0, p.W, thick}, {0, p.H - thick, p.W, thick}, {0, 0, thick, p.H},
			{p.W - thick, 0, thick, p.H}} {
			filled(r, p.X+edge[0], p.Y+edge[1], edge[2], edge[3], alarm)
		}
	}
}

// within writes the words of a box in its middle.
func within(r chartdraw.Renderer, p pictures.Part, c drawing.Color) {
	if p.Text == "" {
		return
	}
	r.SetFontColor(c)
	r.SetFontSize(wordSize)
	size := r.MeasureText(p.Text)
	r.Text(p.Text, p.X+(p.W-size.Width())/2, p.Y+(p.H+size.Height())/2)
}

// arrow goes across, with its head at the end.
func arrow(r chartdraw.Renderer, p pictures.Part) {
	const head = 26
	end, way := p.X+p.W, int(math.Copysign(1, float64(p.W)))
	filled(r, min(p.X, end-way*head), p.Y-thick/2, abs(p.W)-head, thick, alarm)
	r.SetFillColor(alarm)
	r.MoveTo(end, p.Y)
	r.LineTo(end-way*head, p.Y-head*2/3)
	r.LineTo(end-way*head, p.Y+head*2/3)
	r.Close()
	r.Fill()
}

func abs(n int) int { return max(n, -n) }

func filled(r chartdraw.Renderer, x, y, wide, high int, c drawing.Color) {
	r.SetFillColor(c)
	r.MoveTo(x, y)
	r.LineTo(x+wide, y)
	r.LineTo(x+wide, y+high)
	r.LineTo(x, y+high)
	r.Close()
	r.Fill()
}
