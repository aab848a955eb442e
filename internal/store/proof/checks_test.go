package proof

import (
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/store/ledger"
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
			r.tally([]*ledger.Row{
				{Seq: 1, Moves: []books.Move{box}}, {Seq: 2, Moves: books.Reverse([]books.Move{box})},
			})
		}, ""},
		{"a box below zero", func(r *MachineReport) {
			r.tally([]*ledger.Row{{Seq: 1}, {Seq: 2, Moves: books.Reverse([]books.Move{box})}})
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
