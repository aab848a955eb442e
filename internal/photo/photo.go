// Package photo makes of what somebody sent as a picture a picture of the
// program's own: it is decoded, bounded in size and written anew, so that
// nothing is kept that is none, and nothing that hides in one.
package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/gif"
	"image/jpeg"
	_ "image/png"

	"golang.org/x/image/draw"
	_ "golang.org/x/image/webp"
)

// ErrNone means that something is no picture, or too large for one.
var ErrNone = errors.New("no picture that can be read")

const (
	pixelsMax = 25_000_000 // a phone's photo; more would take over 100 MB while it is read
	sideMax   = 2560       // kept: a slip can be read, and a year of them fits on a disk
	quality   = 85
)

// Clean gives a picture written anew.
func Clean(data []byte) ([]byte, error) {
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNone, err)
	}
	if c.Width <= 0 || c.Height <= 0 || c.Width > pixelsMax/c.Height {
		return nil, fmt.Errorf("%w: %s of %d x %d", ErrNone, kind, c.Width, c.Height)
	}
	p, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNone, err)
	}
	var out bytes.Buffer
	p = smaller(p, taken(data))
	if err := jpeg.Encode(&out, p, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNone, err)
	}
	return out.Bytes(), nil
}

// smaller is a picture the right way up whose longer side is at most sideMax, on
// white where it can be seen through.
func smaller(p image.Image, way int) image.Image {
	b := p.Bounds()
	w, h := b.Dx(), b.Dy()
	if longer := max(w, h); longer > sideMax {
		w, h = max(1, w*sideMax/longer), max(1, h*sideMax/longer)
	} else if _, opaque := p.(*image.YCbCr); opaque && way == 1 {
		return p
	}
	to := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(to, to.Bounds(), image.White, image.Point{}, draw.Src)
	draw.ApproxBiLinear.Scale(to, to.Bounds(), p, b, draw.Over, nil)
	return upright(to, way)
}
