package chart_test

import (
	"bytes"
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"shopfloat/internal/chart"
	"shopfloat/internal/pictures"
	"shopfloat/internal/texts"
)

var anew = flag.Bool("update", false, "write the drawings of the README anew")

// inReadme compares a drawing with the one that the README shows.
func inReadme(t *testing.T, name string, drawn []byte) {
	t.Helper()
	path := filepath.Join("..", "..", "docs", name+".png")
	if *anew {
		if err := os.WriteFile(path, drawn, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if shown, err := os.ReadFile(path); err != nil || !bytes.Equal(shown, drawn) {
		t.Errorf("%s is not what is drawn (go test ./internal/chart -run Drawings -update): %v", path, err)
	}
}

// Every drawing, of one to five boxes, is drawn with nothing outside, in colours that are three
// different greys: what is meant is told by shape and words and not by colour.
func TestDrawings(t *testing.T) {
	c, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range pictures.Drawings {
		for _, kinds := range [][]string{{"20s"}, {"50s", "20s", "10s"},
			{"10000s", "5000s", "1000s", "500s", "100s"}} {
			d := pictures.Draw(c.In("en", "IE", "EUR"), name, kinds)
			for _, p := range d.Parts {
				x, y := max(p.X, p.X+p.W), max(p.Y, p.Y+p.H)
				if p.X < 0 || p.Y < 0 || x > pictures.DrawingWide || y > d.High {
					t.Errorf("%s of %d: %+v is outside of %d", name, len(kinds), p, d.High)
				}
			}
			var b bytes.Buffer
			if err := chart.DrawingPNG(&b, *d); err != nil {
				t.Fatal(err)
			}
			img, err := png.Decode(bytes.NewReader(b.Bytes()))
			if err != nil || img.Bounds().Dx() != pictures.DrawingWide || img.Bounds().Dy() != d.High {
				t.Errorf("%s: %v, %v", name, img.Bounds(), err)
			}
			if b.Len() > 200_000 {
				t.Errorf("%s has %d bytes", name, b.Len())
			}
			// a strip at the right edge stays white: no words run out of the picture
			for y := range d.High {
				if r, g, bl, _ := img.At(pictures.DrawingWide-4, y).RGBA(); r+g+bl != 3*0xffff {
					t.Errorf("%s of %d: something stands at the edge, %d from the top", name, len(kinds), y)
					break
				}
			}
			if len(kinds) == 3 {
				inReadme(t, name, b.Bytes())
			}
		}
	}
	if pictures.Draw(c.In("en", "IE", "EUR"), "none", nil) != nil {
		t.Error("a drawing of nothing")
	}
	if err := chart.DrawingPNG(&bytes.Buffer{}, pictures.Drawing{High: 10}); err == nil {
		t.Error("nothing is drawn")
	}
}
