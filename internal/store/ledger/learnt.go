package ledger

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// ErrUnlearnt says that nothing can be learned from a machine's records.
var ErrUnlearnt = errors.New("nothing can be learned from the records")

// ReadLearnt reads what is kept of what a machine's records tell advice, up to which entry;
// the state of no record where there is nothing, or what a program of another form kept.
func ReadLearnt(each file.Query, id shop.MachineID) (s advice.State, kept bool, err error) {
	var body []byte
	err = each("SELECT body FROM learnt WHERE machine = ?", []any{id}, func(row file.Scanner) error {
		kept = true
		return row.Scan(&body)
	})
	if err != nil {
		return s, false, fmt.Errorf("what is learnt of machine %d: %w", id, err)
	}
	if !kept || json.Unmarshal(body, &s) != nil || s.Version != advice.StateVersion {
		return advice.State{Version: advice.StateVersion}, kept, nil
	}
	return s, kept, nil
}

// Learned gives what a machine's records tell advice: what is kept of it, and what was recorded
// since. It reads no more than that. [ErrUnlearnt] is about the records, all else about the file.
func (t Ledger) Learned(id shop.MachineID) (advice.State, error) {
	s, _, err := ReadLearnt(t.tx.Each, id)
	if err != nil {
		return s, err
	}
	p := &past{}
	if p.then, err = t.lastBefore(id, "seq <= ?", s.Seq); err != nil {
		return s, err
	}
	if p.then == nil {
		p.then = books.New(id)
		p.entries, err = t.Entries(id, time.Time{})
	} else if p.entries, err = readRows(t.tx.Each, entryQuery+"> ? ORDER BY seq", id, p.then.Seq); err == nil {
		err = t.claimsThen(id, p)
	}
	if err != nil {
		return s, err
	}
	more, err := s.Extended(p.then, p.entries)
	if err != nil {
		return s, fmt.Errorf("machine %d: %w: %w", id, ErrUnlearnt, err)
	}
	return more, nil
}

// Learn keeps what a machine's records tell advice by now. Of records from which nothing can be
// learned nothing is kept.
func (t Ledger) Learn(id shop.MachineID) error {
	s, err := t.Learned(id)
	if errors.Is(err, ErrUnlearnt) {
		return t.forget(id)
	}
	if err != nil {
		return err
	}
	return t.saveLearnt(id, s)
}

func (t Ledger) saveLearnt(id shop.MachineID, s advice.State) error {
	body, err := json.Marshal(s)
	if err == nil {
		err = t.tx.Exec("INSERT INTO learnt (machine, seq, body) VALUES (?, ?, ?)"+
			" ON CONFLICT (machine) DO UPDATE SET seq = excluded.seq, body = excluded.body", id, s.Seq, string(body))
	}
	if err != nil {
		return fmt.Errorf("what is learnt of machine %d: %w", id, err)
	}
	return nil
}

// forget keeps nothing of what a machine's records tell advice.
func (t Ledger) forget(id shop.MachineID) error {
	if err := t.tx.Exec("DELETE FROM learnt WHERE machine = ?", id); err != nil {
		return fmt.Errorf("what is learnt of machine %d: %w", id, err)
	}
	return nil
}

// learnAgain goes back to before an entry from which on something else holds now, and on from
// there: as far back as the last checkpoint, since an earlier correction may have put what is
// corrected before that entry, and took the checkpoints from there on with it. What is kept
// without it stays as it is.
func (t Ledger) learnAgain(id shop.MachineID, from int64) error {
	s, kept, err := ReadLearnt(t.tx.Each, id)
	if err != nil || !kept || from > s.Seq {
		return err
	}
	then, err := t.lastBefore(id, "seq < ?", from)
	if err != nil {
		return err
	}
	if from = 1; then != nil {
		from = then.Seq + 1
	}
	first, err := readRows(t.tx.Each, entryQuery+"= ?", id, from)
	if err != nil {
		return err
	}
	ok := len(first) == 1
	if ok {
		s, ok = s.Before(from, first[0].Happened)
	}
	if !ok {
		s = advice.State{Version: advice.StateVersion}
	}
	if err := t.saveLearnt(id, s); err != nil {
		return err
	}
	return t.Learn(id)
}

// Unlearnt lists the machines that have records of which nothing is kept for advice.
func (t Ledger) Unlearnt() (list []shop.MachineID, err error) {
	err = t.tx.Each(`SELECT id FROM machine WHERE seq > 0 AND id NOT IN (SELECT machine FROM learnt)
		ORDER BY id`, nil, func(row file.Scanner) error {
		var id shop.MachineID
		err := row.Scan(&id)
		list = append(list, id)
		return err
	})
	return list, err
}
