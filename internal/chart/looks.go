package chart

import (
	"image"

	"github.com/go-analyze/charts/chartdraw"
	"github.com/go-analyze/charts/chartdraw/drawing"

	"shopfloat/internal/pictures"
)

// edge, pale and alarm are the colours of sheets beside those of the advice. As greys
// they are dark, light and in between.
var (
	pale  = drawing.Color{R: 0xf6, G: 0xc9, B: 0x8b, A: 0xff}
	alarm = drawing.Color{R: 0xc0, G: 0x39, B: 0x2b, A: 0xff}
)

// drawn makes a row what the library draws.
func drawn(row pictures.Row, length float64) chartdraw.Series {
	s := series{}
	for i, p := range row.Points {
		if row.Look == pictures.Stepped && i > 0 {
			s.add(p.X, row.Points[i-1].Y)
		}
		s.add(p.X, p.Y)
	}
	switch row.Look {
	case pictures.DarkBars:
		s.style = chartdraw.Style{FillColor: paid, StrokeColor: paid, StrokeWidth: 1}
		return &bars{s, length}
	case pictures.LightBars:
		s.style = chartdraw.Style{FillColor: pale, StrokeColor: ink, StrokeWidth: 2}
		return &bars{s, length}
	case pictures.Dotted:
		s.style = joined(load)
	case pictures.Stepped:
		s.style = chartdraw.Style{StrokeColor: paid, StrokeWidth: 4}
	case pictures.Dashed:
		s.style = chartdraw.Style{StrokeColor: alarm, StrokeWidth: 4, StrokeDashArray: []float64{16, 12}}
	}
	return &s
}

// bars stand on nothing, up or down.
type bars struct {
	series
	length float64
}

// Render implements chartdraw.Series.
func (b *bars) Render(r chartdraw.Renderer, box chartdraw.Box, x, y chartdraw.Range, _ chartdraw.Style) {
	half := max(int(0.36*float64(box.Width())/b.length), 1)
	ground := box.Bottom - y.Translate(0)
	b.style.GetFillAndStrokeOptions().WriteDrawingOptionsToRenderer(r)
	for i := range b.x {
		at, top := box.Left+x.Translate(b.x[i]), box.Bottom-y.Translate(b.y[i])
		if top == ground {
			continue
		}
		r.MoveTo(at-half, ground)
		r.LineTo(at-half, top)
		r.LineTo(at+half, top)
		r.LineTo(at+half, ground)
		r.LineTo(at-half, ground)
		r.FillStroke()
	}
}

// keys draws the title and what the looks stand for.
func keys(s pictures.Sheet) (image.Image, error) {
	r := blank()
	write(r, s.Title, left, titleTop, titleSize)
	x, y := left, namesTop
	for _, k := range s.Keys {
		wide := mark + gap + measure(r, k.Text) + 2*gap
		if x+wide > width && x > left {
			x, y = left, y+lineNext
		}
		keyMark(r, k.Look, x, y)
		write(r, k.Text, x+mark+gap, y, textSize)
		x += wide
	}
	return saved(r)
}

// keyMark is a small piece of a look before its words.
func keyMark(r chartdraw.Renderer, look pictures.Look, x, y int) {
	const high, middle, thick = 18, 9, 5
	bar := func(from, to, up, down int, c drawing.Color) {
		r.SetFillColor(c)
		r.MoveTo(x+from, y-up)
		r.LineTo(x+to, y-up)
		r.LineTo(x+to, y-down)
		r.LineTo(x+from, y-down)
		r.Close()
		r.Fill()
	}
	switch look {
	case pictures.DarkBars:
		bar(0, mark, high, 0, paid)
	case pictures.LightBars:
		bar(0, mark, high, 0, ink)
		bar(2, mark-2, high-2, 2, pale)
	case pictures.Dotted:
		bar(0, mark, middle+1, middle-1, load)
		bar(mark/2-thick, mark/2+thick, middle+thick, middle-thick, load)
	case pictures.Stepped:
		bar(0, mark/2, thick, 0, paid)
		bar(mark/2, mark/2+thick, high, 0, paid)
		bar(mark/2, mark, high, high-thick, paid)
	case pictures.Dashed:
		bar(0, mark/3, middle+2, middle-2, alarm)
		bar(mark*2/3, mark, middle+2, middle-2, alarm)
	}
}
