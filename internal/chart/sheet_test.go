package chart_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"testing"

	"shopfloat/internal/chart"
	"shopfloat/internal/pictures"
)

func points(ys ...float64) (list []pictures.Point) {
	for i, y := range ys {
		list = append(list, pictures.Point{X: float64(i), Y: y})
	}
	return list
}

func sheet(rows ...pictures.Row) pictures.Sheet {
	return pictures.Sheet{Title: "Some shop", Keys: []pictures.Key{{Look: pictures.DarkBars, Text: "dark"}},
		Graphs: []pictures.Graph{{Name: "Graph", Length: 5, Rows: rows,
			Marks: []pictures.Mark{{At: 0, Text: "1 Jan"}}}}}
}

func drawnSheet(t *testing.T, s pictures.Sheet) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := chart.SheetPNG(&b, s); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// A sheet is as wide as a phone and as high as it has graphs; nothing to draw is an
// error or an empty graph, no crash.
func TestSheetSize(t *testing.T) {
	s := sheet(pictures.Row{Look: pictures.DarkBars, Points: points(1, 2, 0, 4, 5)})
	s.Graphs = append(s.Graphs, s.Graphs[0], pictures.Graph{Name: "empty", Length: 1})
	if size := drawnSheet(t, s).Bounds().Size(); size.X != 1080 || size.Y != 150+3*420 {
		t.Errorf("size %v", size)
	}
	for name, bad := range map[string]pictures.Sheet{
		"no graph":  {},
		"no length": {Graphs: []pictures.Graph{{Name: "x"}}},
		"too many":  {Graphs: make([]pictures.Graph, chart.PanelsMax+1)},
	} {
		if chart.SheetPNG(io.Discard, bad) == nil {
			t.Errorf("%s: drawn", name)
		}
	}
}

// ink counts the pixels of a graph that are darker, as greys, than a limit.
func inkOf(img image.Image, from, to uint8) (n int) {
	for y := 150 + 60; y < 150+380; y += 2 { // every fourth pixel is enough
		for x := 0; x < 1080; x += 2 {
			if g := color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y; g >= from && g < to {
				n++
			}
		}
	}
	return n
}

// In grey dark and light bars are told apart: one fills with dark, the other with light.
func TestSheetInGrey(t *testing.T) {
	empty := drawnSheet(t, sheet())
	dark := drawnSheet(t, sheet(pictures.Row{Look: pictures.DarkBars, Points: points(5, 5, 5, 5, 5)}))
	light := drawnSheet(t, sheet(pictures.Row{Look: pictures.LightBars, Points: points(5, 5, 5, 5, 5)}))
	const many = 5_000
	none := inkOf(empty, 0, 110)
	if d, l := inkOf(dark, 0, 110)-none, inkOf(light, 0, 110)-none; d < many || l > d/4 {
		t.Errorf("dark pixels: %d with dark bars, %d with light ones", d, l)
	}
	if l := inkOf(light, 180, 230) - inkOf(empty, 180, 230); l < many {
		t.Errorf("light bars have %d light pixels", l)
	}
}

// Bars below nothing point down, and every look leaves something to see.
func TestSheetLooks(t *testing.T) {
	empty := inkOf(drawnSheet(t, sheet()), 0, 240)
	for look := pictures.DarkBars; look <= pictures.Dashed; look++ {
		s := sheet(pictures.Row{Look: look, Points: points(3, -2, 4, -5, 1)})
		if n := inkOf(drawnSheet(t, s), 0, 240); n < empty+100 {
			t.Errorf("look %d: %d pixels, empty %d", look, n, empty)
		}
	}
}
