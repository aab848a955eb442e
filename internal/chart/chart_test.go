package chart_test

import (
	"bytes"
	"flag"
	"image/png"
	"math"
	"os"
	"testing"

	"pgregory.net/rapid"

	"shopfloat/internal/advice"
	"shopfloat/internal/chart"
	"shopfloat/internal/checks"
)

var keep = flag.String("keep", "", "write the example picture to this file, to look at it")

func example() advice.Chart {
	c := advice.Chart{
		Title: "Example corner shop: notes paid out a day", Unit: "notes",
		Names: advice.Names{
			Paid: "paid out", Least: "ran out", Expected: "expected", Band: "9 days in 10", Load: "advice"},
		Ticks: []advice.Tick{{Day: 0, Text: "26 Oct"}, {Day: 7, Text: "2 Nov"}, {Day: 14, Text: "9 Nov"},
			{Day: 21, Text: "16 Nov"}, {Day: 28, Text: "23 Nov"}, {Day: 35, Text: "30 Nov"}},
	}
	for _, name := range []string{"50s", "20s", "10s"} {
		p := advice.Panel{Name: name}
		for i := range 35 {
			p.Past = append(p.Past, advice.Was{
				Paid: 120 + 60*math.Sin(float64(i)*2*math.Pi/7), Known: i != 12, Least: i == 20})
		}
		for i := range 7 {
			m := 120 + 60*math.Sin(float64(i)*2*math.Pi/7)
			p.Ahead = append(p.Ahead, advice.Coming{Mean: m, Low: m * 0.7, High: m * 1.3, Off: i == 4})
		}
		p.Ahead[0].Load = 170
		c.Panels = append(c.Panels, p)
	}
	return c
}

func TestPNG(t *testing.T) {
	var out bytes.Buffer
	if err := chart.PNG(&out, example()); err != nil {
		t.Fatal(err)
	}
	if *keep != "" {
		if err := os.WriteFile(*keep, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if out.Len() > 500_000 {
		t.Errorf("%d bytes are too many for a shop with a slow line", out.Len())
	}
	img, err := png.Decode(&out)
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != 1080 || b.Dy() != 150+3*420 {
		t.Errorf("size %v", b)
	}
	// Each colour of the legend is somewhere in the panels, too.
	seen := map[[3]uint32]bool{}
	for y := 150; y < img.Bounds().Dy(); y++ {
		for x := range img.Bounds().Dx() {
			r, g, b, _ := img.At(x, y).RGBA()
			seen[[3]uint32{r >> 8, g >> 8, b >> 8}] = true
		}
	}
	for name, c := range map[string][3]uint32{
		"paid": {0x1f, 0x4e, 0x9e}, "ran out": {0xc0, 0x39, 0x2b},
		"expected": {0xd3, 0x6b, 0x08}, "load": {0x1e, 0x7d, 0x46},
	} {
		if !seen[c] {
			t.Errorf("nothing is drawn in the colour of %q", name)
		}
	}
}

func TestPNGErr(t *testing.T) {
	for name, c := range map[string]advice.Chart{
		"no panels": {}, "too many": {Panels: make([]advice.Panel, chart.PanelsMax+1)},
		"no days": {Panels: make([]advice.Panel, 1)},
	} {
		if err := chart.PNG(&bytes.Buffer{}, c); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// Any figures make a picture: none, all the same, a single day, days without figure.
func TestPNGOfAnything(t *testing.T) {
	checks.Rapid(t, 25, 500, 20_000, func(t *rapid.T) {
		p := advice.Panel{Name: "20s"}
		for range rapid.IntRange(0, 10).Draw(t, "past") {
			p.Past = append(p.Past, advice.Was{Paid: float64(rapid.IntRange(0, 1_000_000).Draw(t, "paid")),
				Known: rapid.Bool().Draw(t, "known"), Least: rapid.Bool().Draw(t, "least")})
		}
		for range rapid.IntRange(1, 7).Draw(t, "ahead") {
			p.Ahead = append(p.Ahead, advice.Coming{High: float64(rapid.IntRange(0, 9999).Draw(t, "high")),
				Load: rapid.Int64Range(0, 5000).Draw(t, "load"), Off: rapid.Bool().Draw(t, "off")})
		}
		if err := chart.PNG(&bytes.Buffer{}, advice.Chart{Title: "x", Panels: []advice.Panel{p}}); err != nil {
			t.Fatal(err)
		}
	})
}

func BenchmarkPNG(b *testing.B) {
	c := example()
	for b.Loop() {
		if err := chart.PNG(&bytes.Buffer{}, c); err != nil {
			b.Fatal(err)
		}
	}
}
