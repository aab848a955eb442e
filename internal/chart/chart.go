// Package chart draws pictures of notes by day as PNG, large enough to be read
// on a phone. It alone knows the drawing library.
package chart

import (
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"io"

	"github.com/go-analyze/charts/chartdraw"

	"shopfloat/internal/advice"
)

// Size of a picture in pixels: as wide as a phone held upright, a panel for
// each kind of note. Letters are a thirtieth of the width.
const (
	width       = 1080
	headHeight  = 150
	panelHeight = 420
	dpi         = 160
)

// PanelsMax bounds the height of a picture.
const PanelsMax = 8

// PNG draws a picture. One without panels, with more than PanelsMax or with a
// panel without days is an error.
func PNG(w io.Writer, p advice.Chart) error {
	if len(p.Panels) == 0 || len(p.Panels) > PanelsMax {
		return fmt.Errorf("picture of %d panels: want 1 to %d", len(p.Panels), PanelsMax)
	}
	all := image.NewRGBA(image.Rect(0, 0, width, headHeight+panelHeight*len(p.Panels)))
	head, err := head(p)
	if err != nil {
		return err
	}
	draw.Draw(all, image.Rect(0, 0, width, headHeight), head, image.Point{}, draw.Src)
	for i, panel := range p.Panels {
		if len(panel.Past)+len(panel.Ahead) == 0 {
			return fmt.Errorf("panel %s has no days", panel.Name)
		}
		img, err := render(panelChart(p, panel))
		if err != nil {
			return fmt.Errorf("panel %s: %w", panel.Name, err)
		}
		top := headHeight + i*panelHeight
		draw.Draw(all, image.Rect(0, top, width, top+panelHeight), img, image.Point{}, draw.Src)
	}
	best := png.Encoder{CompressionLevel: png.BestSpeed}
	return best.Encode(w, all)
}

func render(c chartdraw.Chart) (image.Image, error) {
	var to chartdraw.ImageWriter
	if err := c.Render(chartdraw.PNG, &to); err != nil {
		return nil, err
	}
	return to.Image()
}
