package ledger

import (
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

// Learnt is a part of what is kept of what a machine's records tell advice.
type Learnt struct {
	Seq    int64 // the last entry that is in it
	Newest int64 // when its newest closed period was counted, in seconds; 0: it has none
	State  advice.State
}

// Sound reports whether it can be read and is what stands beside it.
func (l *Learnt) Sound() bool {
	return l.State.Version == advice.StateVersion && l.State.Seq == l.Seq &&
		advice.Seconds(l.State.Newest()) == l.Newest
}

// ReadLearnt reads what is kept of what a machine's records tell advice, oldest part first.
// What another form of it was kept in has no version.
func ReadLearnt(each file.Query, id shop.MachineID) ([]Learnt, error) {
	return readLearnt(each, "", id)
}

// LastLearnt reads the part that is added to; nothing where there is none.
func LastLearnt(each file.Query, id shop.MachineID) ([]Learnt, error) {
	return readLearnt(each, " AND seq = (SELECT max(seq) FROM learnt WHERE machine = ?1)", id)
}

func readLearnt(each file.Query, which string, id shop.MachineID, args ...any) (list []Learnt, err error) {
	err = each("SELECT seq, newest, body FROM learnt WHERE machine = ?1"+which+" ORDER BY seq",
		append([]any{id}, args...), func(row file.Scanner) error {
			var l Learnt
			var body []byte
			err := row.Scan(&l.Seq, &l.Newest, &body)
			if l.State.UnmarshalText(body) != nil {
				l.State = advice.State{}
			}
			list = append(list, l)
			return err
		})
	if err != nil {
		return nil, fmt.Errorf("what is learnt of machine %d: %w", id, err)
	}
	return list, nil
}

// joined is what parts tell together; the state of no record where one of them is of another form.
func joined(list []Learnt) advice.State {
	parts := make([]advice.State, len(list))
	for i, l := range list {
		if parts[i] = l.State; l.State.Version != advice.StateVersion {
			return advice.State{Version: advice.StateVersion}
		}
	}
	return advice.Joined(parts)
}

// Learned gives what a machine's records tell advice: what is kept of it, and what was recorded
// since. It reads no more than that. [ErrUnlearnt] is about the records, all else about the file.
func (t Ledger) Learned(id shop.MachineID) (advice.State, error) {
	list, err := ReadLearnt(t.tx.Each, id)
	if err != nil {
		return advice.State{}, err
	}
	return t.extended(id, joined(list))
}

// extended goes on from what is kept with what was recorded since.
func (t Ledger) extended(id shop.MachineID, s advice.State) (advice.State, error) {
	p := &past{}
	var err error
	if p.then, err = lastBefore(t.tx.Each, id, "seq <= ?", s.Seq); err != nil {
		return s, err
	}
	if p.then == nil {
		p.then = books.New(id)
		p.entries, err = t.Entries(id, time.Time{})
	} else if p.entries, err = t.after(id, p.then.Seq); err == nil {
		err = t.reading(id).claimsThen(p)
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

// Learn keeps what a machine's records tell advice by now: it reads and writes the part that is
// added to. Of records from which nothing can be learned nothing is kept.
func (t Ledger) Learn(id shop.MachineID) error {
	list, err := LastLearnt(t.tx.Each, id)
	if err != nil {
		return err
	}
	if len(list) == 1 && list[0].State.Version != advice.StateVersion {
		if err := t.forget(id); err != nil {
			return err
		}
		list = nil
	}
	s, err := t.extended(id, joined(list))
	if errors.Is(err, ErrUnlearnt) {
		return t.forget(id)
	}
	if err != nil {
		return err
	}
	from := int64(0)
	if len(list) == 1 {
		from = list[0].Seq
	}
	return t.saveLearnt(id, from, s)
}

// saveLearnt puts a state in the place of the parts from an entry on. Parts are let go when all of
// them is old.
func (t Ledger) saveLearnt(id shop.MachineID, from int64, s advice.State) error {
	err := t.tx.Exec("DELETE FROM learnt WHERE machine = ? AND seq >= ?", id, from)
	full, last := s.Parts()
	for _, part := range append(full, last) {
		var body []byte
		if err == nil {
			body, err = part.MarshalText()
		}
		if err == nil {
			err = t.tx.Exec("INSERT INTO learnt (machine, seq, newest, body) VALUES (?, ?, ?, ?)", id, part.Seq,
				advice.Seconds(part.Newest()), string(body))
		}
	}
	if err == nil && len(full) > 0 {
		keep := int64(advice.KeepDays * 24 * time.Hour / time.Second)
		err = t.tx.Exec(`DELETE FROM learnt WHERE machine = ?1 AND seq < ?2 AND
			newest < (SELECT max(newest) FROM learnt WHERE machine = ?1) - ?3`, id, last.Seq, keep)
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
// without it stays as it is, unless the newest is so much older then that what was let go is wanted
// again.
func (t Ledger) learnAgain(id shop.MachineID, from int64) error {
	last, err := LastLearnt(t.tx.Each, id)
	if err != nil || len(last) == 0 || from > last[0].Seq {
		return err
	}
	then, err := lastBefore(t.tx.Each, id, "seq < ?", from)
	if err != nil {
		return err
	}
	if from = 1; then != nil {
		from = then.Seq + 1
	}
	before, err := t.newestLearnt(id)
	if err != nil {
		return err
	}
	ok, err := t.goBack(id, from, last[0].State.Tills)
	if err == nil && ok {
		err = t.Learn(id)
	}
	after, also := t.newestLearnt(id)
	if err = errors.Join(err, also); err != nil || ok && advice.Reaches(before, after, after) {
		return err
	}
	if err := t.forget(id); err != nil {
		return err
	}
	return t.Learn(id)
}

// newestLearnt is when the newest period was counted that is kept for advice.
func (t Ledger) newestLearnt(id shop.MachineID) (time.Time, error) {
	var newest int64
	err := t.tx.One("SELECT coalesce(max(newest), 0) FROM learnt WHERE machine = ?", []any{id}, &newest)
	return time.Unix(newest, 0), err
}

// goBack puts what was told before an entry in the place of the part that it is in and of those
// behind it. What tills brought stands in the last of these. It does nothing, and says so, where
// that cannot be.
func (t Ledger) goBack(id shop.MachineID, from int64, tills []advice.Brought) (bool, error) {
	list, err := readLearnt(t.tx.Each, ` AND
		seq <= (SELECT min(seq) FROM learnt WHERE machine = ?1 AND seq >= ?2) AND
		seq >= (SELECT coalesce(max(seq), 0) FROM learnt WHERE machine = ?1 AND seq < ?2)`, id, from)
	if err != nil || len(list) == 0 {
		return false, err
	}
	if own := list[len(list)-1:]; len(own[0].State.Before(from).Days) > 0 {
		list = own // else the part before goes on
	}
	was := joined(list)
	was.Tills = tills
	was = was.Before(from)
	if was.Seq != from-1 {
		return false, nil
	}
	return true, t.saveLearnt(id, list[0].Seq, was)
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
