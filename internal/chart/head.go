package chart

import (
	"image"

	"github.com/go-analyze/charts/chartdraw"
	"github.com/go-analyze/charts/chartdraw/drawing"

	"shopfloat/internal/advice"
)

// Places of the head, in pixels.
const (
	left     = 24
	titleTop = 50
	namesTop = 100
	lineNext = 36 // to the second row of names
	mark     = 28 // width of a colour sample
	gap      = 12
)

// head draws the title and what the colours stand for.
func head(p advice.Chart) (image.Image, error) {
	r := blank()
	write(r, p.Title, left, titleTop, titleSize)
	x, y := left, namesTop
	for _, n := range []struct {
		name   string
		colour drawing.Color
	}{
		{p.Names.Paid, paid}, {p.Names.Least, least}, {p.Names.Expected, coming}, {p.Names.Band, band},
		{p.Names.Load, load},
	} {
		if n.name == "" {
			continue
		}
		wide := mark + gap + measure(r, n.name) + 2*gap
		if x+wide > width && x > left {
			x, y = left, y+lineNext
		}
		sample(r, x, y, n.colour)
		write(r, n.name, x+mark+gap, y, textSize)
		x += wide
	}
	return saved(r)
}

// blank is an empty head to write on.
func blank() chartdraw.Renderer { return sheetOf(headHeight) }

// sheetOf is an empty picture of a height.
func sheetOf(high int) chartdraw.Renderer {
	r := chartdraw.PNG(width, high)
	r.SetDPI(dpi)
	r.SetFont(chartdraw.GetDefaultFont())
	filled(r, 0, 0, width, high, drawing.ColorWhite)
	return r
}

func saved(r chartdraw.Renderer) (image.Image, error) {
	var to chartdraw.ImageWriter
	if err := r.Save(&to); err != nil {
		return nil, err
	}
	return to.Image()
}

func write(r chartdraw.Renderer, s string, x, y int, size float64) {
	r.SetFontColor(ink)
	r.SetFontSize(size)
	r.Text(s, x, y)
}

func measure(r chartdraw.Renderer, s string) int {
	r.SetFontSize(textSize)
	return r.MeasureText(s).Width()
}

// sample paints a spot of a colour before its name.
func sample(r chartdraw.Renderer, x, y int, c drawing.Color) {
	const high = 18
	r.SetFillColor(c)
	r.MoveTo(x, y-high)
	r.LineTo(x+mark, y-high)
	r.LineTo(x+mark, y)
	r.LineTo(x, y)
	r.Close()
	r.Fill()
}
