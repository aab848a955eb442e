package ledger

import (
	"cmp"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Of the newest checkpoints so many are all kept, then the first of each week for so
// many days, then the first of each month.
const (
	keepCheckpoints = 3
	keepWeeks       = 90 // days

	// looksAt is how many of the newest are looked at when one comes: those before them are the
	// first of their months already, and there may be ten years of these.
	looksAt = 40
)

// checkpoint keeps the books as they are after a close, and what is learnt by then, or drops
// those that a record makes wrong, all from the first entry on that it changes, and puts others
// in their place.
func (t Ledger) checkpoint(e *books.Entry, body []byte, back *past) error {
	id := e.Machine
	switch e.Kind {
	case books.Close:
		if err := t.keepBooks(id, e, body); err != nil {
			return err
		}
		err := t.tx.Exec(`WITH newer AS (SELECT seq, day FROM checkpoint WHERE machine = ?1
				ORDER BY seq DESC LIMIT +?4)
			DELETE FROM checkpoint WHERE machine = ?1 AND seq > (SELECT min(seq) FROM newer) AND seq < (SELECT
				min(seq) FROM (SELECT seq FROM newer ORDER BY seq DESC LIMIT +?2))
			AND seq NOT IN (SELECT min(seq) FROM newer GROUP BY substr(day, 1, 7))
			AND seq NOT IN (SELECT min(seq) FROM newer WHERE day > ?3 GROUP BY strftime('%Y-%W', day))`,
			id, keepCheckpoints, recordedOn(e).Add(-keepWeeks), looksAt)
		if err != nil {
			return err
		}
		return t.Learn(id)
	case books.Undo, books.Correction:
		if err := t.dropFrom(id, back.from); err != nil {
			return err
		}
		if err := t.learnAgain(id, back.from); err != nil {
			return err
		}
		return t.keepAgain(e, back)
	case books.Dated:
		if err := t.dropFrom(id, 0); err != nil {
			return err
		}
		return t.forget(id)
	}
	return nil
}

// changedFrom is the first entry that a record changes the effect of.
func (t Ledger) changedFrom(e *books.Entry) (int64, error) {
	from := e.ChangesFrom()
	if e.Kind == books.Correction {
		return from, nil
	}
	list, err := readRows(t.tx.Each, entryQuery+"= ?", e.Machine, e.Target)
	if err == nil && len(list) == 1 && list[0].Kind == books.Correction {
		from, err = t.changedFrom(&list[0])
	}
	return from, err
}

// dropFrom takes away the checkpoints from an entry on.
func (t Ledger) dropFrom(id shop.MachineID, seq int64) error {
	err := t.tx.Exec("DELETE FROM checkpoint WHERE machine = ? AND seq >= ?", id, seq)
	if err != nil {
		return fmt.Errorf("checkpoints of machine %d: %w", id, err)
	}
	return nil
}

// past is what a machine was at a checkpoint, and all that came after it.
type past struct {
	from    int64          // the first entry that is to be worked out anew
	then    *books.Machine // with those claims at hand that what came after is about
	rows    []*Row
	entries []books.Entry
	now     []books.Claim // what is known of claims by now: those, and later ones
	also    []int64       // claims that are wanted besides
}

// since gives the past from the last checkpoint before an entry on, with claims at hand
// besides those that it is about; nil where there is none.
func (t Ledger) since(id shop.MachineID, seq int64, also []int64) (*past, error) {
	then, err := lastBefore(t.tx.Each, id, "seq < ?", seq)
	if then == nil {
		return nil, err
	}
	p := &past{from: seq, then: then, also: also}
	if p.rows, err = readAfter(t.tx.Each, id, then.Seq); err == nil {
		p.entries, err = Decode(p.rows)
	}
	if err == nil {
		err = t.reading(id).claimsThen(p)
	}
	if err != nil {
		return nil, fmt.Errorf("machine %d from a checkpoint: %w", id, err)
	}
	return p, nil
}

// lastBefore gives the books at the newest checkpoint of which something holds; nil
// where there is none.
func lastBefore(each file.Query, id shop.MachineID, holds string, than any) (m *books.Machine, err error) {
	err = each("SELECT body FROM checkpoint WHERE machine = ? AND "+holds+" ORDER BY seq DESC LIMIT 1",
		[]any{id, than}, func(row file.Scanner) error {
			var body []byte
			if err := row.Scan(&body); err != nil {
				return err
			}
			return json.Unmarshal(body, &m)
		})
	return m, err
}

// Before gives what is to be read to work out anew what came from an entry on: the books
// at the last checkpoint before it, with the claims that what came since is about, and all
// entries since; no books and all entries where there is none.
func (t Ledger) Before(id shop.MachineID, seq int64) (*books.Machine, []books.Entry, error) {
	return t.reading(id).before(seq)
}

// dayAhead is how many days after it is recorded a record may be told at the latest: an
// opening is for the next day of trading.
const dayAhead = 12

// Lately gives what is to be read to tell of the days from one on: the books at a
// checkpoint before any record of these days, with the claims that what came after is
// about, and all entries since; no books and all entries where there is none.
func (t Ledger) Lately(id shop.MachineID, from shop.Date) (*books.Machine, []books.Entry, error) {
	return t.reading(id).lately(from)
}

// tail are the newest entries of a machine, from behind one on, as they were read last: a
// step asks for the same several times over.
type tail struct {
	id          shop.MachineID
	seq, newest int64
	list        []books.Entry
}

// after gives a machine's entries behind one.
func (t Ledger) after(id shop.MachineID, seq int64) ([]books.Entry, error) {
	m, err := t.machine(id)
	if err != nil {
		return nil, err
	}
	if k := &t.at.tail; k.id != id || k.seq > seq || k.newest != m.books.Seq {
		list, err := readRows(t.tx.Each, entryQuery+"> ? ORDER BY seq", id, seq)
		if err != nil {
			return nil, err
		}
		*k = tail{id: id, seq: seq, newest: m.books.Seq, list: list}
	}
	first, _ := slices.BinarySearchFunc(t.at.tail.list, seq+1,
		func(e books.Entry, seq int64) int { return cmp.Compare(e.Seq, seq) })
	return slices.Clone(t.at.tail.list[first:]), nil
}

// known are the claims that are at hand now; none where there is no past.
func (p *past) known() []books.Claim {
	if p == nil {
		return nil
	}
	return p.now
}

// undoing takes back what an entry moved, and folds the entries without it.
func undoing(then, m *books.Machine, target *Row, entries []books.Entry, e books.Entry) (
	*books.Machine, []books.Move, error) {
	if target.Kind == string(books.Dated) {
		return nil, nil, fmt.Errorf("entry %d cannot be undone: it moves nothing", e.Target)
	}
	for _, old := range entries {
		if old.Kind == books.Undo && (old.Target == e.Target || old.Seq == e.Target) {
			return nil, nil, fmt.Errorf("entry %d cannot be undone: entry %d", e.Target, old.Seq)
		}
	}
	moves := books.Reverse(target.Moves)
	balance := m.Balance.Clone()
	if err := balance.Apply(moves); err != nil {
		return nil, nil, err
	}
	after, err := books.FoldOn(then, append(slices.Clip(entries), e))
	if err != nil {
		return nil, nil, err
	}
	if !reflect.DeepEqual(balance, after.Balance) {
		return nil, nil, fmt.Errorf("entry %d cannot be undone: later entries rest on it", e.Target)
	}
	return after, moves, nil
}

// readAfter reads a machine's entries after a number, with their movements.
func readAfter(each file.Query, id shop.MachineID, seq int64) (list []*Row, err error) {
	err = each(wholeColumns+" AND seq > ? ORDER BY seq", []any{id, seq}, func(row file.Scanner) error {
		e, err := scanRow(row, id)
		list = append(list, e)
		return err
	})
	for _, e := range list {
		if err == nil {
			err = readMovesOf(each, e)
		}
	}
	return list, err
}
