package store

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"slices"
	"strings"
	"testing"

	"shopfloat/internal/books"
)

// What the books themselves refuse never reaches these checks from a file, so
// they are shown wrong books directly.
func TestChecksOfBooks(t *testing.T) {
	box := books.NewMove("cash", "box:1", "50", 3)
	open := func(no int64, paper bool) *books.Period {
		return &books.Period{No: no, Status: books.Open, Paper: paper}
	}
	for _, c := range []struct {
		name  string
		check func(*MachineReport)
		want  string
	}{
		{"notes that balance", func(r *MachineReport) {
			r.tally([]*entryRow{{seq: 1, moves: []books.Move{box}}, {seq: 2, moves: books.Reverse([]books.Move{box})}})
		}, ""},
		{"a box below zero", func(r *MachineReport) {
			r.tally([]*entryRow{{seq: 1}, {seq: 2, moves: books.Reverse([]books.Move{box})}})
		}, "entry 2: "},
		{"notes from nowhere", func(r *MachineReport) {
			r.conserved(books.Balance{"cash": {"50": -2}, "box:1": {"50": 3}})
		}, "1 notes of 50 come from nowhere"},
		{"one face for another", func(r *MachineReport) {
			r.conserved(books.Balance{"cash": {"50": -3}, "box:1": {"20": 3}})
		}, "come from nowhere"},
		{"one open period and one from paper", func(r *MachineReport) {
			r.periods(&books.Machine{Periods: []*books.Period{open(1, false), open(5, true)}})
		}, ""},
		{"two open periods", func(r *MachineReport) {
			r.periods(&books.Machine{Periods: []*books.Period{open(1, false), open(5, false)}})
		}, "periods 1 and 5 are both open"},
		{"the fold is what was posted", func(r *MachineReport) {
			_ = r.fold(1, nil, books.New(1))
		}, ""},
		{"the fold differs", func(r *MachineReport) {
			_ = r.fold(1, nil, &books.Machine{ID: 1, Seq: 1})
		}, "the fold over 0 entries differs"},
		{"the fold fails", func(r *MachineReport) {
			_ = r.fold(1, []books.Entry{{Machine: 1, Seq: 1, Record: books.Record{Kind: "odd"}}}, books.New(1))
		}, "fold: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			var rep MachineReport
			c.check(&rep)
			if got := strings.Join(rep.Faults, "; "); c.want == "" && got != "" || !strings.Contains(got, c.want) {
				t.Errorf("faults %q, want %q", got, c.want)
			}
		})
	}
}

func someEntry() *entryRow {
	return &entryRow{
		machine: 1, seq: 2, period: 3, kind: "top-up", by: 4, settings: 5, happened: 6, recorded: 7, cause: 8, causeN: 9,
		body: []byte(`{}`), digest: []byte("d"), prev: []byte("p"),
		moves: []books.Move{books.NewMove("cash", "box:1", "50", 10), books.NewMove("cash", "box:2", "20", 11)},
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
	if got := entryHash(someEntry()); !slices.Equal(got, want[:]) {
		t.Errorf("hash %x, want %x", got, want)
	}
	b = []byte{1}
	number(7, 2, 99)
	text("{}", "p")
	want = sha256.Sum256(b)
	if got := settingsHash(7, 2, 99, []byte("{}"), []byte("p")); !slices.Equal(got, want[:]) {
		t.Errorf("hash of settings %x, want %x", got, want)
	}
}

// No field can change, nor pass a byte to its neighbour, under the same hash.
func TestEntryHashCoversEverything(t *testing.T) {
	seen := map[string]string{hex.EncodeToString(entryHash(someEntry())): "nothing"}
	for name, change := range map[string]func(*entryRow){
		"machine":  func(e *entryRow) { e.machine++ },
		"seq":      func(e *entryRow) { e.seq++ },
		"period":   func(e *entryRow) { e.period++ },
		"kind":     func(e *entryRow) { e.kind = "level" },
		"by":       func(e *entryRow) { e.by++ },
		"settings": func(e *entryRow) { e.settings++ },
		"happened": func(e *entryRow) { e.happened++ },
		"recorded": func(e *entryRow) { e.recorded++ },
		"cause":    func(e *entryRow) { e.cause++ },
		"cause_n":  func(e *entryRow) { e.causeN++ },
		"body":     func(e *entryRow) { e.body = []byte(`[]`) },
		"digest":   func(e *entryRow) { e.digest = []byte("e") },
		"shifted":  func(e *entryRow) { e.body, e.digest = []byte(`{`), []byte("}d") },
		"prev":     func(e *entryRow) { e.prev = []byte("q") },
		"no move":  func(e *entryRow) { e.moves = e.moves[:1] },
		"order":    func(e *entryRow) { slices.Reverse(e.moves) },
		"from":     func(e *entryRow) { e.moves[0].From = "bank" },
		"to":       func(e *entryRow) { e.moves[0].To = "box:3" },
		"face":     func(e *entryRow) { e.moves[0].Face = "20" },
		"notes":    func(e *entryRow) { e.moves[0].Notes++ },
	} {
		e := someEntry()
		change(e)
		sum := hex.EncodeToString(entryHash(e))
		if other, ok := seen[sum]; ok {
			t.Errorf("%s gives the hash of %s", name, other)
		}
		seen[sum] = name
	}
}
