package chart

import (
	"math"

	"github.com/go-analyze/charts/chartdraw"
	"github.com/go-analyze/charts/chartdraw/drawing"

	"shopfloat/internal/advice"
)

// Letter sizes in points.
const titleSize, textSize = 13, 9

// ground is white: chat programs show pictures on light and dark alike.
var (
	ink    = drawing.Color{R: 0x33, G: 0x33, B: 0x33, A: 0xff}
	grid   = drawing.Color{R: 0xe0, G: 0xe0, B: 0xe0, A: 0xff}
	paid   = drawing.Color{R: 0x1f, G: 0x4e, B: 0x9e, A: 0xff}
	least  = drawing.Color{R: 0xc0, G: 0x39, B: 0x2b, A: 0xff}
	coming = drawing.Color{R: 0xd3, G: 0x6b, B: 0x08, A: 0xff}
	band   = drawing.Color{R: 0xd3, G: 0x6b, B: 0x08, A: 0x40}
	load   = drawing.Color{R: 0x1e, G: 0x7d, B: 0x46, A: 0xff}
)

// panelChart is the chart of one kind of note.
func panelChart(p advice.Chart, panel advice.Panel) chartdraw.Chart {
	most := round(highest(panel))
	letters := chartdraw.Style{
		FontStyle: chartdraw.FontStyle{FontSize: textSize, FontColor: ink}, StrokeColor: ink, StrokeWidth: 1}
	faint := chartdraw.Style{StrokeColor: grid, StrokeWidth: 1}
	across := chartdraw.XAxis{Style: letters, GridMajorStyle: faint, GridMinorStyle: faint,
		Ticks: ticks(p.Ticks, len(panel.Past)+len(panel.Ahead))}
	upright := chartdraw.YAxis{Style: letters, GridMajorStyle: faint, GridMinorStyle: faint,
		AxisType: chartdraw.YAxisSecondary, Ticks: heights(most)} // the library's second axis is the left one
	return chartdraw.Chart{
		Title: panel.Name + ", " + p.Unit, Width: width, Height: panelHeight, DPI: dpi,
		TitleStyle: chartdraw.Style{FontStyle: chartdraw.FontStyle{FontSize: titleSize, FontColor: ink}},
		Background: chartdraw.Style{Padding: chartdraw.NewBox(90, 70, 60, 20)},
		XAxis:      across, YAxis: upright,
		YAxisSecondary: chartdraw.YAxis{Style: chartdraw.Hidden()},
		Series:         lines(panel),
	}
}

// ticks name days; two without a name stand half a day outside, since the
// library shows no more than from the first tick to the last.
func ticks(list []advice.Tick, days int) []chartdraw.Tick {
	out := []chartdraw.Tick{{Value: -0.5}}
	for _, t := range list {
		out = append(out, chartdraw.Tick{Value: float64(t.Day), Label: t.Text})
	}
	return append(out, chartdraw.Tick{Value: float64(max(days, 1)) - 0.5})
}

// highest is the most notes in a panel.
func highest(panel advice.Panel) float64 {
	most := 1.0
	for _, d := range panel.Past {
		most = max(most, d.Paid)
	}
	for _, d := range panel.Ahead {
		most = max(most, d.High, float64(d.Load))
	}
	return most
}

// steps of the upright axis.
const steps = 4

// round gives the next height that divides into round steps.
func round(most float64) float64 {
	size := math.Pow(10, math.Floor(math.Log10(most/steps)))
	for _, nice := range []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10} {
		if step := math.Max(1, math.Ceil(nice*size)); step*steps >= most {
			return step * steps
		}
	}
	return most
}
