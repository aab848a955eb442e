package telling

import (
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// beside are kinds of record that come in while others are at work and change
// nothing they rely on.
var beside = []books.Kind{books.Incident, books.News, books.Attachment}

// LastSince gives the newest record after one, those left aside that change nothing
// anybody relies on.
func LastSince(m *books.Machine, seq int64) (last books.Brief, ok bool) {
	for _, b := range slices.Backward(m.Recent) {
		if b.Seq > seq && !slices.Contains(beside, b.Kind) {
			return b, true
		}
	}
	return last, false
}

// LastOwn is somebody's last record that holds, of those; nil for none.
func LastOwn(m *books.Machine, by shop.PersonID) *books.Brief {
	for i := len(m.Recent) - 1; i >= 0; i-- {
		b := &m.Recent[i]
		if b.By == by && !b.Void && b.Kind != books.Undo && !slices.Contains(beside, b.Kind) {
			return b
		}
	}
	return nil
}
