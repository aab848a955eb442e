package photo

import (
	"bytes"
	"encoding/binary"
	"image"
)

// Marks of a JPEG file (ITU-T T.81, table B.1), and the tag that says which way up
// a picture was taken (Exif 2.32, CIPA DC-008, 4.6.4 A: Orientation).
const (
	markStart   = 0xD8
	markScan    = 0xDA
	markApp1    = 0xE1
	orientation = 0x0112
	shortNumber = 3 // the type of that tag's value
)

// taken says which way up a JPEG was taken, 1 to 8 as Exif numbers them. A file
// that says nothing, or nothing that can be read, stands as it is: 1.
func taken(data []byte) int {
	if len(data) < 4 || data[0] != 0xFF || data[1] != markStart {
		return 1
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xFF; {
		mark, size := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
		if mark == 0xFF {
			at++ // marks may be filled up
			continue
		}
		if mark == markScan || size < 2 || at+2+size > len(data) {
			break
		}
		body, found := bytes.CutPrefix(data[at+4:at+2+size], []byte("Exif\x00\x00"))
		if mark == markApp1 && found {
			return inTags(body)
		}
		at += 2 + size
	}
	return 1
}

// inTags looks for the tag in the first directory of a TIFF header (TIFF 6.0, section 2).
func inTags(b []byte) int {
	var order binary.ByteOrder = binary.LittleEndian
	switch {
	case len(b) < 8:
		return 1
	case string(b[:4]) == "MM\x00\x2a":
		order = binary.BigEndian
	case string(b[:4]) != "II\x2a\x00":
		return 1
	}
	const entry = 12
	at := uint64(order.Uint32(b[4:]))
	if at+2 > uint64(len(b)) {
		return 1
	}
	n := uint64(order.Uint16(b[at:]))
	for at += 2; n > 0 && at+entry <= uint64(len(b)); n, at = n-1, at+entry {
		if order.Uint16(b[at:]) != orientation || order.Uint16(b[at+2:]) != shortNumber {
			continue
		}
		if v := int(order.Uint16(b[at+8:])); v >= 1 && v <= 8 {
			return v
		}
		break
	}
	return 1
}

// upright turns and mirrors a picture so that its top is up, whatever way it was
// taken: what is written anew carries no mark that would say so.
func upright(p *image.RGBA, way int) *image.RGBA {
	if way <= 1 {
		return p
	}
	w, h := p.Bounds().Dx(), p.Bounds().Dy()
	size := image.Rect(0, 0, w, h)
	if way >= 5 { // on its side
		size = image.Rect(0, 0, h, w)
	}
	to := image.NewRGBA(size)
	for y := range size.Dy() {
		for x := range size.Dx() {
			fromX, fromY := seen(way, x, y, w, h)
			from, at := p.PixOffset(fromX, fromY), to.PixOffset(x, y)
			copy(to.Pix[at:at+4], p.Pix[from:from+4])
		}
	}
	return to
}

// seen says which pixel of a stored picture, w wide and h high, is seen at x and y.
// The first row and column of what is stored are, by number: 1 top and left, 2 top
// and right, 3 bottom and right, 4 bottom and left, 5 left and top, 6 right and
// top, 7 right and bottom, 8 left and bottom.
func seen(way, x, y, w, h int) (fromX, fromY int) {
	switch way {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return y, h - 1 - x
	case 7:
		return w - 1 - y, h - 1 - x
	case 8:
		return w - 1 - y, x
	}
	return x, y
}
