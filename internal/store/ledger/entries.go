package ledger

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Row is an entry as it is stored, with its movements.
type Row struct {
	Machine            shop.MachineID
	Seq, Period        int64
	Kind               string
	By                 shop.PersonID
	Settings           int64
	Happened, Recorded int64
	Cause, CauseN      int64
	Body               []byte
	Digest             []byte
	Prev, Hash         []byte
	Moves              []books.Move
}

// machineRow is a machine's books at hand.
type machineRow struct {
	shop  shop.ID
	head  []byte
	books *books.Machine

	claims []books.Claim // the newest
	known  bool          // whether they were read
}

// By says who wrote a record and what led to it.
type By struct {
	Person   shop.PersonID
	Settings int64 // version in force
	Cause    int64 // inbox row
	N        int   // the n-th record of that cause
}

func (t Ledger) machine(id shop.MachineID) (*machineRow, error) {
	if m := t.at.machines[id]; m != nil {
		return m, nil
	}
	m, err := t.row(id)
	if err != nil {
		return nil, err
	}
	file.Keep(&t.at.machines, keepMachines, id, m)
	return m, nil
}

// row reads a machine's row.
func (t Ledger) row(id shop.MachineID) (*machineRow, error) {
	m := &machineRow{}
	var body []byte
	err := t.tx.One("SELECT shop, head, body FROM machine WHERE id = ?", []any{id}, &m.shop, &m.head, &body)
	if err == nil {
		err = json.Unmarshal(body, &m.books)
	}
	if err != nil {
		return nil, fmt.Errorf("machine %d: %w", id, err)
	}
	return m, nil
}

// Machine gives a machine's books, which are not to be changed, and its shop.
func (t Ledger) Machine(id shop.MachineID) (*books.Machine, shop.ID, error) {
	m, err := t.machine(id)
	if err != nil {
		return nil, 0, err
	}
	return m.books, m.shop, nil
}

// Head is the hash of a machine's last entry.
func (t Ledger) Head(id shop.MachineID) ([]byte, error) {
	m, err := t.machine(id)
	if err != nil {
		return nil, err
	}
	return m.head, nil
}

// Post writes a record into a machine's ledger and takes it into its books.
// salts gives the salt of one attachment at a call.
func (t Ledger) Post(id shop.MachineID, by By, r books.Record, salts func() ([]byte, error)) error {
	m, err := t.machine(id)
	if err != nil {
		return err
	}
	tidy(&r)
	e := books.Entry{Record: r, Machine: id, Seq: m.books.Seq + 1,
		By: by.Person, Settings: by.Settings, Recorded: t.tx.Now()}
	before, back, err := t.before(m.books, &e)
	if err != nil {
		return err
	}
	after, moves, err := t.post(before, back, e)
	if err != nil {
		return fmt.Errorf("machine %d: %s: %w", id, r.Kind, err)
	}
	kept, digest, err := attachments(&r, salts)
	if err != nil {
		return err
	}
	row := &Row{
		Machine: id, Seq: e.Seq, Period: PeriodOf(&e), Kind: string(r.Kind),
		By: by.Person, Settings: by.Settings, Cause: by.Cause, CauseN: int64(by.N),
		Happened: file.Milli(r.Happened), Recorded: file.Milli(t.tx.Now()),
		Digest: digest, Prev: m.head, Moves: moves,
	}
	if row.Body, err = json.Marshal(r); err != nil {
		return fmt.Errorf("machine %d: %s: %w", id, r.Kind, err)
	}
	row.Hash = Hash(row)
	if err := t.insertEntry(row, kept); err != nil {
		return fmt.Errorf("machine %d entry %d: %w", id, e.Seq, err)
	}
	t.tx.Entered(int64(id), e.Seq, row.Hash)
	if err := t.saveClaims(id, before.Claims, after.Claims); err != nil {
		return err
	}
	next := &machineRow{shop: m.shop, head: row.Hash, books: after}
	if m.known && !slices.Contains(folds, r.Kind) {
		next.claims, next.known = newest(m.claims, after.Claims), true
	}
	after.Claims = nil
	body, err := t.saveMachine(next)
	if err != nil {
		return err
	}
	return t.checkpoint(&e, body, back)
}

// Closer is who closed the period last that an entry belongs to; 0: nobody, or the
// close was taken back. The opening of a period may be the entry.
func (t Ledger) Closer(machine shop.MachineID, seq int64) (by shop.PersonID, err error) {
	err = t.tx.One(`SELECT c.by_person FROM entry e JOIN entry c ON c.machine = e.machine AND c.kind = 'close'
			AND c.period = CASE e.kind WHEN 'opening' THEN e.seq ELSE e.period END
		WHERE e.machine = ?1 AND e.seq = ?2 AND NOT EXISTS (SELECT 1 FROM entry u WHERE u.machine = c.machine
			AND u.kind = 'undo' AND u.seq > c.seq AND json_extract(u.body, '$.target') = c.seq)
		ORDER BY c.seq DESC LIMIT 1`, []any{machine, seq}, &by)
	if errors.Is(err, file.ErrNone) {
		return 0, nil
	}
	return by, err
}

// folds are the kinds of record whose effect is worked out from all entries.
var folds = []books.Kind{books.Undo, books.Correction, books.Dated}

// withClaims gives books that have at hand the claims that a record can change.
func (t Ledger) withClaims(m *books.Machine, r *books.Record) (*books.Machine, error) {
	w := dues.Wanted{Of: r.Needs()}
	switch {
	case slices.Contains(folds, r.Kind):
		w.Of = nil // any
	case len(w.Of) == 0:
		return m, nil
	}
	claims, err := t.Claims(m.ID, w)
	if err != nil {
		return nil, err
	}
	return m.With(claims), nil
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

// PeriodOf is the period an entry belongs to: an opening begins its own.
func PeriodOf(e *books.Entry) int64 {
	if e.Kind == books.Opening {
		return e.Seq
	}
	return e.Period
}

// before gives what an entry is posted on: the books with the claims that it can
// change, and the past where it takes something back or corrects it: from a checkpoint
// on, or from the first entry where there is none.
func (t Ledger) before(m *books.Machine, e *books.Entry) (*books.Machine, *past, error) {
	if e.Kind != books.Undo && e.Kind != books.Correction {
		with, err := t.withClaims(m, &e.Record)
		return with, nil, err
	}
	from, err := t.changedFrom(e)
	if err != nil {
		return nil, nil, err
	}
	if from > 0 {
		back, err := t.since(e.Machine, from, e.Needs())
		if err != nil || back != nil {
			return m.With(back.known()), back, err
		}
	}
	with, err := t.withClaims(m, &e.Record)
	back := &past{from: from, then: books.New(e.Machine)}
	if err == nil {
		back.rows, back.entries, err = t.ledger(e.Machine)
	}
	return with, back, err
}

// post works out what an entry does. The books at hand stay as they are.
func (t Ledger) post(m *books.Machine, back *past, e books.Entry) (*books.Machine, []books.Move, error) {
	switch e.Kind {
	case books.Undo:
		return UndoOn(back.then, m, back.rows, back.entries, e)
	case books.Correction:
		return m.CorrectOn(back.then, back.entries, e)
	case books.Dated:
		return t.dated(e)
	}
	after := m.Clone()
	moves, err := after.Post(e)
	return after, moves, err
}

// dated folds the books anew with the days that an entry tells of others.
func (t Ledger) dated(e books.Entry) (*books.Machine, []books.Move, error) {
	_, entries, err := t.ledger(e.Machine)
	if err != nil {
		return nil, nil, err
	}
	after, err := books.Fold(e.Machine, append(entries, e))
	return after, nil, err
}

// ledger reads all of a machine's entries.
func (t Ledger) ledger(id shop.MachineID) ([]*Row, []books.Entry, error) {
	rows, err := ReadEntries(t.tx.Each, id)
	if err != nil {
		return nil, nil, err
	}
	entries, err := Decode(rows)
	return rows, entries, err
}

// UndoOn takes what an entry moved back and folds the entries without it, from books on that
// stood before it; rows and entries are all since.
func UndoOn(then, m *books.Machine, rows []*Row, entries []books.Entry, e books.Entry) (
	*books.Machine, []books.Move, error) {
	i := e.Target - 1 - then.Seq
	if i < 0 || i >= int64(len(rows)) {
		return nil, nil, fmt.Errorf("there is no entry %d to undo", e.Target)
	}
	return undoing(then, m, rows[i], entries, e)
}

func (t Ledger) insertEntry(e *Row, kept []Kept) error {
	err := t.tx.Exec(`INSERT INTO entry (machine, seq, period, kind, by_person, settings, happened, recorded,
		cause, cause_n, body, digest, prev, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		e.Machine, e.Seq, e.Period, e.Kind, e.By, e.Settings, e.Happened, e.Recorded,
		e.Cause, e.CauseN, file.Text(e.Body), file.OrNull(e.Digest), e.Prev, e.Hash)
	if err != nil {
		return err
	}
	for n, m := range e.Moves {
		err := t.tx.Exec(`INSERT INTO move (machine, period, seq, n, from_place, to_place, face, notes)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?)`, e.Machine, e.Period, e.Seq, n, m.From, m.To, m.Face, m.Notes)
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

func (t Ledger) saveMachine(m *machineRow) (body []byte, err error) {
	if body, err = json.Marshal(m.books); err != nil {
		return nil, fmt.Errorf("machine %d: %w", m.books.ID, err)
	}
	err = t.tx.Exec("UPDATE machine SET seq = ?, head = ?, body = ?, fold = ? WHERE id = ?",
		m.books.Seq, m.head, file.Text(body), Arithmetic, m.books.ID)
	if err != nil {
		return nil, fmt.Errorf("machine %d: %w", m.books.ID, err)
	}
	file.Keep(&t.at.machines, keepMachines, m.books.ID, m)
	return body, nil
}

// wholeColumns reads every column of entries.
const wholeColumns = `SELECT seq, period, kind, by_person, settings, happened, recorded, cause, cause_n,
	body, digest, prev, hash FROM entry WHERE machine = ?`

const wholeRow = wholeColumns + " ORDER BY seq"

func scanRow(row file.Scanner, id shop.MachineID) (*Row, error) {
	e := &Row{Machine: id}
	return e, row.Scan(&e.Seq, &e.Period, &e.Kind, &e.By, &e.Settings, &e.Happened, &e.Recorded,
		&e.Cause, &e.CauseN, &e.Body, &e.Digest, &e.Prev, &e.Hash)
}

// ReadEntries reads a machine's ledger, oldest first, with the movements of each entry.
func ReadEntries(each file.Query, id shop.MachineID) ([]*Row, error) {
	var list []*Row
	err := each(wholeRow, []any{id}, func(row file.Scanner) error {
		e, err := scanRow(row, id)
		list = append(list, e)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("entries of machine %d: %w", id, err)
	}
	return list, readMoves(each, id, list)
}

// readMoves hands every movement to its entry. One that has none is an error:
// it would otherwise be read by nobody.
func readMoves(each file.Query, id shop.MachineID, list []*Row) error {
	bySeq := make(map[int64]*Row, len(list))
	for _, e := range list {
		bySeq[e.Seq] = e
	}
	return each(movesQuery+" ORDER BY machine, period, seq, n", []any{id}, func(row file.Scanner) error {
		m, period, seq, n, err := scanMove(row)
		if err != nil {
			return err
		}
		e := bySeq[seq]
		if e == nil || e.Period != period || n != int64(len(e.Moves)) {
			return &Stray{seq: seq, period: period, n: n}
		}
		e.Moves = append(e.Moves, m)
		return nil
	})
}

const movesQuery = "SELECT period, seq, n, from_place, to_place, face, notes FROM move WHERE machine = ?"

func scanMove(row file.Scanner) (m books.Move, period, seq, n int64, err error) {
	var face string
	err = row.Scan(&period, &seq, &n, &m.From, &m.To, &face, &m.Notes)
	m.Face = cashmath.Face(face)
	return m, period, seq, n, err
}

// Stray is a movement that belongs to no entry.
type Stray struct{ seq, period, n int64 }

func (s *Stray) Error() string {
	return fmt.Sprintf("movement %d of entry %d in period %d belongs nowhere", s.n, s.seq, s.period)
}

// EntriesFrom gives a machine's entries from a number on, and those earlier ones
// that they undo or correct: all that what is in force from there on hangs on.
func (t Ledger) EntriesFrom(id shop.MachineID, seq int64) ([]books.Entry, error) {
	tail, err := t.after(id, seq-1)
	if err != nil {
		return nil, err
	}
	wanted := map[int64]bool{}
	for _, e := range tail {
		if (e.Kind == books.Undo || e.Kind == books.Correction) && e.Target < seq {
			wanted[e.Target] = true
		}
	}
	var list []books.Entry
	for _, target := range slices.Sorted(maps.Keys(wanted)) {
		one, err := readRows(t.tx.Each, entryQuery+"= ?", id, target)
		if err != nil {
			return nil, err
		}
		list = append(list, one...)
	}
	return append(list, tail...), nil
}

const entryQuery = "SELECT seq, by_person, settings, recorded, body FROM entry WHERE machine = ? AND seq "

func readRows(each file.Query, query string, id shop.MachineID, seq int64) ([]books.Entry, error) {
	var rows []*Row
	err := each(query, []any{id, seq}, func(row file.Scanner) error {
		e := &Row{Machine: id}
		rows = append(rows, e)
		return row.Scan(&e.Seq, &e.By, &e.Settings, &e.Recorded, &e.Body)
	})
	if err != nil {
		return nil, fmt.Errorf("entries of machine %d: %w", id, err)
	}
	return Decode(rows)
}

// Entries gives a machine's entries recorded since an instant, oldest first. A
// clock that went back may let one earlier entry in.
func (t Ledger) Entries(id shop.MachineID, since time.Time) ([]books.Entry, error) {
	return ReadAll(t.tx.Each, id, since)
}

// ReadAll gives a machine's entries recorded since an instant, oldest first.
func ReadAll(each file.Query, id shop.MachineID, since time.Time) ([]books.Entry, error) {
	var rows []*Row
	err := each(`SELECT seq, by_person, settings, recorded, body FROM entry WHERE machine = ?1 AND seq >=
		(SELECT min(seq) FROM entry WHERE machine = ?1 AND recorded >= ?2) ORDER BY seq`,
		[]any{id, file.Milli(since)}, func(row file.Scanner) error {
			e := &Row{Machine: id}
			rows = append(rows, e)
			return row.Scan(&e.Seq, &e.By, &e.Settings, &e.Recorded, &e.Body)
		})
	if err != nil {
		return nil, fmt.Errorf("entries of machine %d: %w", id, err)
	}
	return Decode(rows)
}

// Decode gives rows as the books want them.
func Decode(rows []*Row) ([]books.Entry, error) {
	list := make([]books.Entry, len(rows))
	for i, r := range rows {
		e := &list[i]
		if err := json.Unmarshal(r.Body, &e.Record); err != nil {
			return nil, fmt.Errorf("entry %d: %w", r.Seq, err)
		}
		e.Machine, e.Seq, e.Recorded = r.Machine, r.Seq, file.Instant(r.Recorded)
		e.By, e.Settings = r.By, r.Settings
	}
	return list, nil
}
