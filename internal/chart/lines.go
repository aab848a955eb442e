package chart

import (
	"math"
	"strconv"

	"github.com/go-analyze/charts/chartdraw"
	"github.com/go-analyze/charts/chartdraw/drawing"

	"shopfloat/internal/advice"
)

// joined are dots with a line between them.
func joined(c drawing.Color) chartdraw.Style {
	return chartdraw.Style{StrokeColor: c, StrokeWidth: 3, DotColor: c, DotWidth: 4}
}

// dots are drawn as circles without a line between them.
func dots(c drawing.Color, size float64) chartdraw.Style {
	return chartdraw.Style{DotColor: c, DotWidth: size, StrokeWidth: 0, StrokeColor: drawing.ColorTransparent}
}

// lines are what a panel shows, the band lowest. A line is broken where no
// figure is.
func lines(panel advice.Panel) []chartdraw.Series {
	out := ahead(panel)
	short := &series{style: dots(least, 8)}
	run := &series{style: joined(paid)}
	for i, d := range panel.Past {
		if !d.Known {
			out, run = withLine(out, run), &series{style: joined(paid)}
			continue
		}
		run.add(float64(i), d.Paid)
		if d.Least {
			short.add(float64(i), d.Paid)
		}
	}
	out = withLine(withLine(out, run), short)
	if len(out) == 0 {
		out = append(out, short) // nothing known: the library wants one series for the axes
	}
	return out
}

// withLine adds a line that has points.
func withLine(all []chartdraw.Series, s *series) []chartdraw.Series {
	if s.Len() == 0 {
		return all
	}
	return append(all, s)
}

// ahead are band, expectation and loads.
func ahead(panel advice.Panel) []chartdraw.Series {
	wide := &between{series: series{style: chartdraw.Style{FillColor: band, StrokeColor: band, StrokeWidth: 1}}}
	mean, loads := &series{style: joined(coming)}, &series{style: dots(load, 10)}
	for i, d := range panel.Ahead {
		x := float64(len(panel.Past) + i)
		if d.Load > 0 {
			loads.add(x, float64(d.Load))
		}
		if d.Off {
			continue
		}
		wide.add(x, d.High)
		wide.low = append(wide.low, d.Low)
		mean.add(x, d.Mean)
	}
	var out []chartdraw.Series
	if mean.Len() > 0 {
		out = append(out, wide)
	}
	return withLine(withLine(out, mean), loads)
}

// heights are the marks of the upright axis.
func heights(most float64) []chartdraw.Tick {
	list := make([]chartdraw.Tick, 0, steps+1)
	for i := range steps + 1 {
		v := most * float64(i) / steps
		list = append(list, chartdraw.Tick{Value: v, Label: grouped(v)})
	}
	return list
}

// grouped writes a number with a comma before each three digits: 320,000.
func grouped(v float64) string {
	text := strconv.FormatFloat(v, 'f', -1, 64)
	for at := len(strconv.FormatFloat(math.Trunc(v), 'f', 0, 64)) - 3; at > 0; at -= 3 {
		text = text[:at] + "," + text[at:]
	}
	return text
}
