package store

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/shop"
)

// entryRow is an entry as it is stored, with its movements.
type entryRow struct {
	machine            shop.MachineID
	seq, period        int64
	kind               string
	by                 shop.PersonID
	settings           int64
	happened, recorded int64
	cause, causeN      int64
	body               []byte
	digest             []byte
	prev, hash         []byte
	moves              []books.Move
}

// machineRow is a machine's books at hand.
type machineRow struct {
	shop  shop.ID
	head  []byte
	books *books.Machine
}

// By says who wrote a record and what led to it.
type By struct {
	Person   shop.PersonID
	Settings int64 // version in force
	Cause    int64 // inbox row
	N        int   // the n-th record of that cause
}

func (t *Tx) machine(id shop.MachineID) (*machineRow, error) {
	if m := t.db.cache.machines[id]; m != nil {
		return m, nil
	}
	m := &machineRow{}
	var body []byte
	err := t.one("SELECT shop, head, body FROM machine WHERE id = ?", []any{id}, &m.shop, &m.head, &body)
	if err != nil {
		return nil, fmt.Errorf("machine %d: %w", id, err)
	}
	if err := json.Unmarshal(body, &m.books); err != nil {
		return nil, fmt.Errorf("machine %d: %w", id, err)
	}
	keep(&t.db.cache.machines, keepMachines, id, m)
	return m, nil
}

// Machine gives a machine's books, which are not to be changed, and its shop.
func (t *Tx) Machine(id shop.MachineID) (*books.Machine, shop.ID, error) {
	m, err := t.machine(id)
	if err != nil {
		return nil, 0, err
	}
	return m.books, m.shop, nil
}

// Post writes a record into a machine's ledger and takes it into its books.
// salts gives the salt of one attachment at a call.
func (t *Tx) Post(id shop.MachineID, by By, r books.Record, salts func() ([]byte, error)) error {
	m, err := t.machine(id)
	if err != nil {
		return err
	}
	tidy(&r)
	e := books.Entry{Record: r, Machine: id, Seq: m.books.Seq + 1,
		By: by.Person, Settings: by.Settings, Recorded: t.now}
	after, moves, err := t.post(m.books, e)
	if err != nil {
		return fmt.Errorf("machine %d: %s: %w", id, r.Kind, err)
	}
	kept, digest, err := attachments(&r, salts)
	if err != nil {
		return err
	}
	row := &entryRow{
		machine: id, seq: e.Seq, period: periodOf(&e), kind: string(r.Kind),
		by: by.Person, settings: by.Settings, cause: by.Cause, causeN: int64(by.N),
		happened: milli(r.Happened), recorded: milli(t.now),
		digest: digest, prev: m.head, moves: moves,
	}
	if row.body, err = json.Marshal(r); err != nil {
		return fmt.Errorf("machine %d: %s: %w", id, r.Kind, err)
	}
	row.hash = entryHash(row)
	if err := t.insertEntry(row, kept); err != nil {
		return fmt.Errorf("machine %d entry %d: %w", id, e.Seq, err)
	}
	return t.saveMachine(&machineRow{shop: m.shop, head: row.hash, books: after})
}

// tidy gives a record the form it has when it is read back, so that the books
// at hand and the fold over the stored entries cannot differ.
func tidy(r *books.Record) {
	r.Happened = r.Happened.UTC().Round(0).Truncate(time.Millisecond)
	r.Figures, r.Amounts, r.Marks = slices.Clip(r.Figures), slices.Clip(r.Amounts), slices.Clip(r.Marks)
	if len(r.Figures) == 0 {
		r.Figures = nil
	}
	if len(r.Amounts) == 0 {
		r.Amounts = nil
	}
	if len(r.Marks) == 0 {
		r.Marks = nil
	}
	if len(r.Ticks) == 0 {
		r.Ticks = nil
	}
	if len(r.Parts) == 0 {
		r.Parts = nil
	}
	if r.Instead != nil {
		in := *r.Instead
		tidy(&in)
		r.Instead = &in
	}
}

// periodOf is the period an entry belongs to: an opening begins its own.
func periodOf(e *books.Entry) int64 {
	if e.Kind == books.Opening {
		return e.Seq
	}
	return e.Period
}

// post works out what an entry does. The books at hand stay as they are.
func (t *Tx) post(m *books.Machine, e books.Entry) (*books.Machine, []books.Move, error) {
	switch e.Kind {
	case books.Undo:
		return t.undo(m, e)
	case books.Correction:
		return t.correct(m, e)
	}
	after := m.Clone()
	moves, err := after.Post(e)
	return after, moves, err
}

// undo takes an entry's movements back and folds the books anew without it.
// It is refused where a later entry rests on the one undone.
func (t *Tx) undo(m *books.Machine, e books.Entry) (*books.Machine, []books.Move, error) {
	rows, entries, err := t.ledger(e.Machine)
	if err != nil {
		return nil, nil, err
	}
	return undoEntry(m, rows, entries, e)
}

// correct folds the books anew with another record in the place of an earlier one.
func (t *Tx) correct(m *books.Machine, e books.Entry) (*books.Machine, []books.Move, error) {
	_, entries, err := t.ledger(e.Machine)
	if err != nil {
		return nil, nil, err
	}
	return m.Correct(entries, e)
}

// ledger reads all of a machine's entries.
func (t *Tx) ledger(id shop.MachineID) ([]*entryRow, []books.Entry, error) {
	rows, err := readEntries(t.each, id)
	if err != nil {
		return nil, nil, err
	}
	entries, err := decodeEntries(rows)
	return rows, entries, err
}

func undoEntry(m *books.Machine, rows []*entryRow, entries []books.Entry, e books.Entry) (
	*books.Machine, []books.Move, error) {
	if e.Target <= 0 || e.Target > int64(len(rows)) {
		return nil, nil, fmt.Errorf("there is no entry %d to undo", e.Target)
	}
	for _, old := range entries {
		if old.Kind == books.Undo && (old.Target == e.Target || old.Seq == e.Target) {
			return nil, nil, fmt.Errorf("entry %d cannot be undone: entry %d", e.Target, old.Seq)
		}
	}
	moves := books.Reverse(rows[e.Target-1].moves)
	balance := m.Balance.Clone()
	if err := balance.Apply(moves); err != nil {
		return nil, nil, err
	}
	after, err := books.Fold(e.Machine, append(slices.Clip(entries), e))
	if err != nil {
		return nil, nil, err
	}
	if !reflect.DeepEqual(balance, after.Balance) {
		return nil, nil, fmt.Errorf("entry %d cannot be undone: later entries rest on it", e.Target)
	}
	return after, moves, nil
}

func (t *Tx) insertEntry(e *entryRow, kept []attachment) error {
	err := t.exec(`INSERT INTO entry (machine, seq, period, kind, by_person, settings, happened, recorded,
		cause, cause_n, body, digest, prev, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		e.machine, e.seq, e.period, e.kind, e.by, e.settings, e.happened, e.recorded,
		e.cause, e.causeN, string(e.body), orNull(e.digest), e.prev, e.hash)
	if err != nil {
		return err
	}
	for n, m := range e.moves {
		err := t.exec(`INSERT INTO move (machine, period, seq, n, from_place, to_place, face, notes)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?)`, e.machine, e.period, e.seq, n, m.From, m.To, m.Face, m.Notes)
		if err != nil {
			return fmt.Errorf("movement %d: %w", n, err)
		}
	}
	for n, a := range kept {
		if err := t.insertAttachment(e, n, a); err != nil {
			return fmt.Errorf("attachment %d: %w", n, err)
		}
	}
	return nil
}

func (t *Tx) saveMachine(m *machineRow) error {
	body, err := json.Marshal(m.books)
	if err != nil {
		return fmt.Errorf("machine %d: %w", m.books.ID, err)
	}
	err = t.exec("UPDATE machine SET seq = ?, head = ?, body = ? WHERE id = ?",
		m.books.Seq, m.head, string(body), m.books.ID)
	if err != nil {
		return fmt.Errorf("machine %d: %w", m.books.ID, err)
	}
	keep(&t.db.cache.machines, keepMachines, m.books.ID, m)
	return nil
}

// query runs a statement and hands over row by row; a Tx and a Reader have one each.
type query func(sql string, args []any, scan func(scanner) error) error

// readEntries reads a machine's ledger, oldest first, with the movements of each entry.
func readEntries(each query, id shop.MachineID) ([]*entryRow, error) {
	var list []*entryRow
	err := each(`SELECT seq, period, kind, by_person, settings, happened, recorded, cause, cause_n,
		body, digest, prev, hash FROM entry WHERE machine = ? ORDER BY seq`, []any{id}, func(row scanner) error {
		e := &entryRow{machine: id}
		list = append(list, e)
		return row.Scan(&e.seq, &e.period, &e.kind, &e.by, &e.settings, &e.happened, &e.recorded,
			&e.cause, &e.causeN, &e.body, &e.digest, &e.prev, &e.hash)
	})
	if err != nil {
		return nil, fmt.Errorf("entries of machine %d: %w", id, err)
	}
	return list, readMoves(each, id, list)
}

// readMoves hands every movement to its entry. One that has none is an error:
// it would otherwise be read by nobody.
func readMoves(each query, id shop.MachineID, list []*entryRow) error {
	bySeq := make(map[int64]*entryRow, len(list))
	for _, e := range list {
		bySeq[e.seq] = e
	}
	return each(`SELECT period, seq, n, from_place, to_place, face, notes FROM move WHERE machine = ?
		ORDER BY machine, period, seq, n`, []any{id}, func(row scanner) error {
		var period, seq, n int64
		var m books.Move
		var face string
		if err := row.Scan(&period, &seq, &n, &m.From, &m.To, &face, &m.Notes); err != nil {
			return err
		}
		m.Face = cashmath.Face(face)
		e := bySeq[seq]
		if e == nil || e.period != period || n != int64(len(e.moves)) {
			return &stray{seq: seq, period: period, n: n}
		}
		e.moves = append(e.moves, m)
		return nil
	})
}

// stray is a movement that belongs to no entry.
type stray struct{ seq, period, n int64 }

func (s *stray) Error() string {
	return fmt.Sprintf("movement %d of entry %d in period %d belongs nowhere", s.n, s.seq, s.period)
}

// Entries gives a machine's entries recorded since an instant, oldest first. A
// clock that went back may let one earlier entry in.
func (t *Tx) Entries(id shop.MachineID, since time.Time) ([]books.Entry, error) {
	return readLedger(t.each, id, since)
}

func readLedger(each query, id shop.MachineID, since time.Time) ([]books.Entry, error) {
	var rows []*entryRow
	err := each(`SELECT seq, by_person, settings, recorded, body FROM entry WHERE machine = ?1 AND seq >=
		(SELECT min(seq) FROM entry WHERE machine = ?1 AND recorded >= ?2) ORDER BY seq`,
		[]any{id, milli(since)}, func(row scanner) error {
			e := &entryRow{machine: id}
			rows = append(rows, e)
			return row.Scan(&e.seq, &e.by, &e.settings, &e.recorded, &e.body)
		})
	if err != nil {
		return nil, fmt.Errorf("entries of machine %d: %w", id, err)
	}
	return decodeEntries(rows)
}

// decodeEntries gives rows as the books want them.
func decodeEntries(rows []*entryRow) ([]books.Entry, error) {
	list := make([]books.Entry, len(rows))
	for i, r := range rows {
		e := &list[i]
		if err := json.Unmarshal(r.body, &e.Record); err != nil {
			return nil, fmt.Errorf("entry %d: %w", r.seq, err)
		}
		e.Machine, e.Seq, e.Recorded = r.machine, r.seq, instant(r.recorded)
		e.By, e.Settings = r.by, r.settings
	}
	return list, nil
}
