package telling_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// The newest record after one, and the last that somebody made: faults and photos are left
// aside, nor does one that was taken back count as anybody's last.
func TestLastRecords(t *testing.T) {
	m := &books.Machine{Recent: []books.Brief{{Seq: 1, By: 1, Kind: books.Opening},
		{Seq: 2, By: 2, Kind: books.TopUp},
		{Seq: 3, By: 2, Kind: books.TopUp, Void: true}, {Seq: 4, By: 2, Kind: books.Undo},
		{Seq: 5, By: 1, Kind: books.Incident}, {Seq: 6, By: 1, Kind: books.News},
		{Seq: 7, By: 2, Kind: books.Attachment}}}
	for since, want := range map[int64]int64{0: 4, 3: 4, 4: 0, 7: 0} {
		if last, ok := telling.LastSince(m, since); ok != (want != 0) || last.Seq != want {
			t.Errorf("since %d: %d, %t, want %d", since, last.Seq, ok, want)
		}
	}
	for by, want := range map[shop.PersonID]int64{1: 1, 2: 2, 3: 0} {
		last := telling.LastOwn(m, by)
		if (last != nil) != (want != 0) || last != nil && last.Seq != want {
			t.Errorf("by %d: %+v, want %d", by, last, want)
		}
	}
}
