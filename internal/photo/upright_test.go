package photo_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"testing"

	"shopfloat/internal/photo"
)

// corners are a picture's four corners, from the top left clockwise.
func corners(p image.Image) (s string) {
	b := p.Bounds()
	for _, at := range []image.Point{{4, 4}, {b.Dx() - 5, 4}, {b.Dx() - 5, b.Dy() - 5}, {4, b.Dy() - 5}} {
		r, g, bl, _ := p.At(b.Min.X+at.X, b.Min.Y+at.Y).RGBA()
		switch {
		case r > 0x8000 && g < 0x8000 && bl < 0x8000:
			s += "r"
		case g > 0x8000 && r < 0x8000:
			s += "g"
		case bl > 0x8000 && r < 0x8000:
			s += "b"
		default:
			s += "w"
		}
	}
	return s
}

// quarters is a picture of four colours: red and green above, white and blue below.
func quarters(w, h int) image.Image {
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			c := color.RGBA{255, 0, 0, 255}
			switch {
			case x >= w/2 && y < h/2:
				c = color.RGBA{0, 255, 0, 255}
			case x >= w/2:
				c = color.RGBA{0, 0, 255, 255}
			case y >= h/2:
				c = color.RGBA{255, 255, 255, 255}
			}
			p.Set(x, y, c)
		}
	}
	return p
}

// withTag puts the mark for a way up into a JPEG, in either byte order, as
// Exif 2.32 lays it out: header, one directory of two tags.
func withTag(jpeg []byte, order binary.AppendByteOrder, way uint16) []byte {
	head := "II\x2a\x00"
	if order == binary.AppendByteOrder(binary.BigEndian) {
		head = "MM\x00\x2a"
	}
	b := order.AppendUint16(order.AppendUint32([]byte(head), 8), 2)
	for _, tag := range [][2]uint16{{0x010f, 7}, {0x0112, way}} {
		b = order.AppendUint32(order.AppendUint16(order.AppendUint16(b, tag[0]), 3), 1)
		b = order.AppendUint16(order.AppendUint16(b, tag[1]), 0)
	}
	b = append([]byte("Exif\x00\x00"), order.AppendUint32(b, 0)...)
	out := append([]byte{}, jpeg[:2]...)
	out = append(out, 0xFF, 0xE1)
	out = append(binary.BigEndian.AppendUint16(out, uint16(len(b)+2)), b...)
	return append(out, jpeg[2:]...)
}

// A picture is kept the way up it is to be seen. What each number means is the
// table of Orientation in Exif 2.32 (CIPA DC-008, 4.6.4 A): where the first row and
// the first column of what is stored are seen.
func TestUpright(t *testing.T) {
	for way, want := range map[uint16]string{
		0: "rgbw", 1: "rgbw", 9: "rgbw", // no number of the table: as it is
		2: "grwb", 3: "bwrg", 4: "wbgr", 5: "rwbg", 6: "wrgb", 7: "bgrw", 8: "gbwr",
	} {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			out, err := photo.Clean(withTag(encoded(t, asJPEG, quarters(64, 32)), order, way))
			if err != nil {
				t.Fatal(err)
			}
			p, _, err := image.Decode(bytes.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			size := image.Pt(64, 32)
			if way >= 5 && way <= 8 {
				size = image.Pt(32, 64)
			}
			if got := corners(p); got != want || p.Bounds().Size() != size {
				t.Errorf("%d, %v: %s of %v, want %s of %v", way, order, got, p.Bounds().Size(), want, size)
			}
			if bytes.Contains(out, []byte("Exif")) {
				t.Errorf("%d: what the phone wrote into the picture is kept", way)
			}
		}
	}
}

// FuzzTags gives all kinds of marks in front of a good picture: it is kept, whatever they say.
func FuzzTags(f *testing.F) {
	plain := encoded(f, asJPEG, quarters(8, 8))
	f.Add(append([]byte("Exif\x00\x00II\x2a\x00\x08\x00\x00\x00"),
		"\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00"...))
	f.Add([]byte("Exif\x00\x00MM\x00\x2a\xff\xff\xff\xff"))
	f.Add([]byte("Exif\x00\x00II\x2a\x00\x08\x00\x00\x00\xff\xff"))
	f.Fuzz(func(t *testing.T, tags []byte) {
		if len(tags) > 60_000 {
			return
		}
		data := append([]byte{}, plain[:2]...)
		data = append(data, 0xFF, 0xE1)
		data = append(binary.BigEndian.AppendUint16(data, uint16(len(tags)+2)), tags...)
		if _, err := photo.Clean(append(data, plain[2:]...)); err != nil {
			t.Errorf("%q: %v", tags, err)
		}
	})
}
