package chart

import (
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"io"
	"slices"

	"github.com/go-analyze/charts/chartdraw"

	"shopfloat/internal/pictures"
)

// SheetPNG draws a sheet. One without graphs, with more than PanelsMax, or with a
// graph without length is an error.
func SheetPNG(w io.Writer, s pictures.Sheet) error {
	if len(s.Graphs) == 0 || len(s.Graphs) > PanelsMax {
		return fmt.Errorf("sheet of %d graphs: want 1 to %d", len(s.Graphs), PanelsMax)
	}
	all := image.NewRGBA(image.Rect(0, 0, width, headHeight+panelHeight*len(s.Graphs)))
	top, err := keys(s)
	if err != nil {
		return err
	}
	draw.Draw(all, image.Rect(0, 0, width, headHeight), top, image.Point{}, draw.Src)
	for i, g := range s.Graphs {
		if g.Length <= 0 {
			return fmt.Errorf("graph %s has no length", g.Name)
		}
		img, err := render(graphChart(g))
		if err != nil {
			return fmt.Errorf("graph %s: %w", g.Name, err)
		}
		y := headHeight + i*panelHeight
		draw.Draw(all, image.Rect(0, y, width, y+panelHeight), img, image.Point{}, draw.Src)
	}
	best := png.Encoder{CompressionLevel: png.BestSpeed}
	return best.Encode(w, all)
}

// graphChart lays a graph out.
func graphChart(g pictures.Graph) chartdraw.Chart {
	low, high := span(g)
	letters := chartdraw.Style{
		FontStyle: chartdraw.FontStyle{FontSize: textSize, FontColor: ink}, StrokeColor: ink, StrokeWidth: 1}
	faint := chartdraw.Style{StrokeColor: grid, StrokeWidth: 1}
	along := []chartdraw.Tick{{Value: -0.5}}
	for _, m := range g.Marks {
		along = append(along, chartdraw.Tick{Value: m.At, Label: m.Text})
	}
	along = append(along, chartdraw.Tick{Value: g.Length - 0.5})
	c := chartdraw.Chart{
		Title: g.Name, Width: width, Height: panelHeight, DPI: dpi,
		TitleStyle: chartdraw.Style{FontStyle: chartdraw.FontStyle{FontSize: titleSize, FontColor: ink}},
		Background: chartdraw.Style{Padding: chartdraw.NewBox(90, 70, 60, 20)},
		XAxis:      chartdraw.XAxis{Style: letters, GridMajorStyle: faint, GridMinorStyle: faint, Ticks: along},
		YAxis: chartdraw.YAxis{Style: letters, GridMajorStyle: faint, GridMinorStyle: faint,
			AxisType: chartdraw.YAxisSecondary, Ticks: uprights(low, high)}, // the library's left axis
		YAxisSecondary: chartdraw.YAxis{Style: chartdraw.Hidden()},
	}
	for _, row := range g.Rows {
		if len(row.Points) > 0 {
			c.Series = append(c.Series, drawn(row, g.Length))
		}
	}
	if len(c.Series) == 0 {
		c.Series = append(c.Series, &series{style: dots(grid, 1), x: []float64{0}, y: []float64{0}})
	}
	return c
}

// span is from the least to the most of a graph, nothing included, in round steps.
func span(g pictures.Graph) (low, high float64) {
	for _, row := range g.Rows {
		for _, p := range row.Points {
			low, high = min(low, p.Y), max(high, p.Y)
		}
	}
	if low == 0 {
		return 0, round(max(high, 1))
	}
	most := round(max(high, -low, 1))
	return -most, most
}

// uprights are the marks of the upright axis.
func uprights(low, high float64) []chartdraw.Tick {
	list := heights(high)
	if low < 0 {
		below := heights(-low)
		slices.Reverse(below)
		for _, t := range below[:len(below)-1] {
			list = append([]chartdraw.Tick{{Value: -t.Value, Label: "-" + t.Label}}, list...)
		}
		slices.SortFunc(list, func(a, b chartdraw.Tick) int {
			if a.Value < b.Value {
				return -1
			}
			return 1
		})
		half := list[:0:0]
		for i, t := range list { // every second one is enough
			if i%2 == 0 {
				half = append(half, t)
			}
		}
		list = half
	}
	return list
}
