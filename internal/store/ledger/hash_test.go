package ledger

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"slices"
	"testing"

	"shopfloat/internal/books"
)

func someEntry() *Row {
	return &Row{
		Machine: 1, Seq: 2, Period: 3, Kind: "top-up", By: 4, Settings: 5,
		Happened: 6, Recorded: 7, Cause: 8, CauseN: 9,
		Body: []byte(`{}`), Digest: []byte("d"), Prev: []byte("p"),
		Moves: []books.Move{books.NewMove("cash", "box:1", "50", 10), books.NewMove("cash", "box:2", "20", 11)},
	}
}

// The hash is over these bytes and no others, so that a ledger of today still
// verifies with any later program. They are put down here a second time.
func TestEntryHashIsFixed(t *testing.T) {
	var b []byte
	number := func(list ...uint64) {
		for _, n := range list {
			b = binary.BigEndian.AppendUint64(b, n)
		}
	}
	text := func(list ...string) {
		for _, s := range list {
			number(uint64(len(s)))
			b = append(b, s...)
		}
	}
	b = append(b, 1)
	number(1, 2, 3)
	text("top-up")
	number(6, 7, 4, 5, 8, 9)
	text("{}", "d")
	number(2)
	text("cash", "box:1", "50")
	number(10)
	text("cash", "box:2", "20")
	number(11)
	text("p")
	want := sha256.Sum256(b)
	if got := Hash(someEntry()); !slices.Equal(got, want[:]) {
		t.Errorf("hash %x, want %x", got, want)
	}
}

// No field can change, nor pass a byte to its neighbour, under the same hash.
func TestEntryHashCoversEverything(t *testing.T) {
	seen := map[string]string{hex.EncodeToString(Hash(someEntry())): "nothing"}
	for name, change := range map[string]func(*Row){
		"machine":  func(e *Row) { e.Machine++ },
		"seq":      func(e *Row) { e.Seq++ },
		"period":   func(e *Row) { e.Period++ },
		"kind":     func(e *Row) { e.Kind = "level" },
		"by":       func(e *Row) { e.By++ },
		"settings": func(e *Row) { e.Settings++ },
		"happened": func(e *Row) { e.Happened++ },
		"recorded": func(e *Row) { e.Recorded++ },
		"cause":    func(e *Row) { e.Cause++ },
		"cause_n":  func(e *Row) { e.CauseN++ },
		"body":     func(e *Row) { e.Body = []byte(`[]`) },
		"digest":   func(e *Row) { e.Digest = []byte("e") },
		"shifted":  func(e *Row) { e.Body, e.Digest = []byte(`{`), []byte("}d") },
		"prev":     func(e *Row) { e.Prev = []byte("q") },
		"no move":  func(e *Row) { e.Moves = e.Moves[:1] },
		"order":    func(e *Row) { slices.Reverse(e.Moves) },
		"from":     func(e *Row) { e.Moves[0].From = "bank" },
		"to":       func(e *Row) { e.Moves[0].To = "box:3" },
		"face":     func(e *Row) { e.Moves[0].Face = "20" },
		"notes":    func(e *Row) { e.Moves[0].Notes++ },
	} {
		e := someEntry()
		change(e)
		sum := hex.EncodeToString(Hash(e))
		if other, ok := seen[sum]; ok {
			t.Errorf("%s gives the hash of %s", name, other)
		}
		seen[sum] = name
	}
}
