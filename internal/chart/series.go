package chart

import (
	"errors"

	"github.com/go-analyze/charts/chartdraw"
)

// series is a line or dots that the library draws.
type series struct {
	style chartdraw.Style
	x, y  []float64
}

func (s *series) add(x, y float64) { s.x, s.y = append(s.x, x), append(s.y, y) }

// GetName, GetYAxis, GetStyle and Len implement chartdraw.Series.
func (s *series) GetName() string               { return "" }
func (s *series) GetYAxis() chartdraw.YAxisType { return chartdraw.YAxisPrimary }
func (s *series) GetStyle() chartdraw.Style     { return s.style }
func (s *series) Len() int                      { return len(s.x) }

// GetValues implements chartdraw.ValuesProvider.
func (s *series) GetValues(i int) (x, y float64) { return s.x[i], s.y[i] }

// Validate implements chartdraw.Series.
func (s *series) Validate() error {
	if len(s.x) != len(s.y) {
		return errors.New("the values of a line do not belong together")
	}
	return nil
}

// Render implements chartdraw.Series.
func (s *series) Render(r chartdraw.Renderer, box chartdraw.Box, x, y chartdraw.Range, _ chartdraw.Style) {
	chartdraw.Draw.LineSeries(r, box, x, y, s.style, s)
}

// between is a band.
type between struct {
	series
	low []float64
}

// GetBoundedValues implements chartdraw.BoundedValuesProvider.
func (b *between) GetBoundedValues(i int) (x, high, low float64) { return b.x[i], b.y[i], b.low[i] }

// Render implements chartdraw.Series.
func (b *between) Render(r chartdraw.Renderer, box chartdraw.Box, x, y chartdraw.Range, _ chartdraw.Style) {
	chartdraw.Draw.BoundedSeries(r, box, x, y, b.style, b)
}
