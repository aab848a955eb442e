package proof

import (
	"bytes"
	"encoding/json"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
)

// checkpoint is what is kept of the books after an entry, to go on from.
type checkpoint struct {
	day  string
	body []byte
}

// checkpoints reads those of a machine. Whoever finds one right takes it away: those
// that are left are wrong, or of no entry.
func (v *verifier) checkpoints(id shop.MachineID) (map[int64]checkpoint, error) {
	marks := map[int64]checkpoint{}
	err := v.each("SELECT seq, day, body FROM checkpoint WHERE machine = ?", []any{id},
		func(row file.Scanner) error {
			var seq int64
			var c checkpoint
			err := row.Scan(&seq, &c.day, &c.body)
			marks[seq] = c
			return err
		})
	return marks, err
}

// agrees reports whether it is what the books were.
func (c checkpoint) agrees(m *books.Machine, recorded int64) bool {
	own, err := json.Marshal(m)
	return err == nil && bytes.Equal(own, c.body) && c.day == file.Instant(recorded).Format(time.DateOnly)
}

// corrected takes away the checkpoints that are the books with all in force that came after them
// and corrects what was before.
func (rep *MachineReport) corrected(id shop.MachineID, rows []*ledger.Row, entries []books.Entry,
	marks map[int64]checkpoint) {
	if len(marks) == 0 {
		return
	}
	stages, err := books.StagesOn(books.New(id), entries, func(e books.Entry) bool {
		_, kept := marks[e.Seq]
		return kept && e.Kind == books.Close
	})
	if err != nil {
		return // the fold says so
	}
	for _, m := range stages {
		if marks[m.Seq].agrees(m, rows[m.Seq-1].Recorded) {
			delete(marks, m.Seq)
		}
	}
}

// learnt compares what is kept for advice with what the entries tell it. Where nothing is
// kept it is made at the next start.
func (v *verifier) learnt(id shop.MachineID, rows []*ledger.Row, rep *MachineReport) error {
	list, err := ledger.ReadLearnt(v.each, id)
	if err != nil || len(list) == 0 {
		return err
	}
	parts := make([]advice.State, len(list))
	for i, part := range list {
		if !rep.sound(part, int64(len(rows))) {
			return nil
		}
		parts[i] = part.State
	}
	seq := list[len(list)-1].Seq
	entries, err := ledger.Decode(rows[:seq])
	if err != nil {
		return nil // that is said
	}
	if want, err := advice.Learned(id, entries); err != nil || !want.Same(advice.Joined(parts)) {
		rep.fault("what is kept for advice is not what %d entries tell", seq)
	}
	return nil
}

// sound reports whether a part of what is kept for advice is what stands beside it, and tells of no
// entry behind the last.
func (rep *MachineReport) sound(part ledger.Learnt, last int64) bool {
	if part.Sound() && part.Seq >= 0 && part.Seq <= last {
		return true
	}
	rep.fault("what is kept for advice is up to entry %d, which it is not", part.Seq)
	return false
}
