package photo_test

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
	"testing"

	"shopfloat/internal/photo"
)

func picture(w, h int) image.Image {
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			p.Set(x, y, color.RGBA{uint8(x), uint8(y), 90, 255})
		}
	}
	return p
}

func encoded(t testing.TB, encode func(io.Writer, image.Image) error, p image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := encode(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func asJPEG(w io.Writer, p image.Image) error { return jpeg.Encode(w, p, nil) }
func asGIF(w io.Writer, p image.Image) error  { return gif.Encode(w, p, nil) }

// What is kept is a JPEG of the same shape, none of its sides too long, and holds
// nothing of what was put behind or into the file.
func TestClean(t *testing.T) {
	for name, c := range map[string]struct {
		data []byte
		w, h int
	}{
		"jpeg": {encoded(t, asJPEG, picture(60, 40)), 60, 40},
		"png":  {encoded(t, png.Encode, picture(60, 40)), 60, 40},
		"gif":  {encoded(t, asGIF, picture(9, 9)), 9, 9}, "large": {encoded(t, asJPEG, picture(5120, 20)), 2560,
			10},
	} {
		out, err := photo.Clean(append(c.data, "<script>hidden()</script>"...))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		p, kind, err := image.Decode(bytes.NewReader(out))
		if err != nil || kind != "jpeg" || p.Bounds().Dx() != c.w || p.Bounds().Dy() != c.h ||
			bytes.Contains(out, []byte("hidden")) {
			t.Errorf("%s: %s of %v, %v", name, kind, p.Bounds(), err)
		}
	}
}

func TestNoPicture(t *testing.T) {
	whole := encoded(t, asJPEG, picture(60, 40))
	bomb := encoded(t, png.Encode, image.NewGray(image.Rect(0, 0, 20_000, 2_000)))
	for name, data := range map[string][]byte{
		"nothing": nil, "words": []byte("<html>image</html>"), "cut": whole[:len(whole)/2], "bomb": bomb,
		"svg": []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`),
	} {
		if out, err := photo.Clean(data); !errors.Is(err, photo.ErrNone) || out != nil {
			t.Errorf("%s: %d bytes, %v", name, len(out), err)
		}
	}
}

func FuzzClean(f *testing.F) {
	f.Add(encoded(f, asJPEG, picture(3, 3)))
	f.Add(encoded(f, png.Encode, picture(3, 3)))
	f.Fuzz(func(t *testing.T, data []byte) {
		if out, err := photo.Clean(data); err == nil {
			if _, kind, err := image.Decode(bytes.NewReader(out)); err != nil || kind != "jpeg" {
				t.Errorf("kept a %s, %v", kind, err)
			}
		}
	})
}
