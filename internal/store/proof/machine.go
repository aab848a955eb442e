package proof

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
	"shopfloat/internal/store/seal"
)

// MachineReport says whether a machine's records hold together.
type MachineReport struct {
	Machine shop.MachineID
	Shop    shop.ID
	Entries int
	Moves   int
	Head    []byte    // hash of the last entry; kept elsewhere, it shows a tail cut off with all its traces
	Word    string    // check word of all that stands there and was told of the shop
	Hashes  [][]byte  // of which check words were made, those of today's program and of earlier ones
	Newest  time.Time // when the last entry was recorded

	Zone   *time.Location // of the shop; UTC where its settings cannot be read
	Absent []string       // photos that are not here and need not be: to be fetched yet, or not to be had
	Faults []string       // each names the record at fault, the earliest first; none: all holds
}

// Verify proves every machine's books from the first entry: the chain is
// whole, every movement follows from its entry, notes are conserved, nothing
// inside a machine ever fell below zero, and what is kept at hand is what the
// entries give. It sees one moment, whatever is written meanwhile. An error
// means that the file could not be read, not that it is wrong.
//
// With an instant it looks at less, for every night: of the records only those since
// then and how they follow on those before, and nothing is worked out anew.
func Verify(ctx context.Context, f *file.Reader, folder string, since time.Time) (reports []MachineReport,
	err error) {
	own, err := file.Own()
	if err == nil {
		err = f.Moment(ctx, func(each file.Query) (err error) {
			v := &verifier{each: each, folder: folder, own: own, since: since}
			reports, err = v.all()
			return err
		})
	}
	if err != nil {
		return nil, fmt.Errorf("verify: %w", err)
	}
	return reports, nil
}

type verifier struct {
	each   file.Query
	folder string // of photos
	own    file.Schema
	since  time.Time // zero: from the first record
}

// stored is a machine's row as it stands in the file.
type stored struct {
	id   shop.MachineID
	shop sql.NullInt64
	seq  int64
	fold int64
	head []byte
	body []byte
}

func (v *verifier) all() ([]MachineReport, error) {
	settings, err := v.settings()
	if err != nil {
		return nil, err
	}
	repeated, err := v.repeated()
	if err != nil {
		return nil, err
	}
	told, err := v.told()
	if err != nil {
		return nil, err
	}
	rows, err := v.machines()
	if err != nil {
		return nil, err
	}
	var reports []MachineReport
	for _, m := range rows {
		rep := MachineReport{Machine: m.id, Shop: shop.ID(m.shop.Int64), Zone: time.UTC}
		if zone := settings.zones[rep.Shop]; zone != nil {
			rep.Zone = zone
		}
		if err := v.machine(m, settings.newest[rep.Shop], told, &rep); err != nil {
			return nil, err
		}
		rep.Faults = append(rep.Faults, repeated[m.id]...)
		rep.Faults = append(rep.Faults, settings.faults(m)...)
		rep.Faults = append(rep.Faults, told.faults[rep.Shop]...)
		reports = append(reports, rep)
	}
	settings.strangers = append(settings.strangers, told.elsewhere(reports)...)
	return v.file(settings, reports)
}

// file adds what is wrong with the file as a whole to the first report.
func (v *verifier) file(settings settingsFaults, reports []MachineReport) ([]MachineReport, error) {
	faults, err := v.structure()
	if err != nil {
		return nil, err
	}
	lost, err := v.schema()
	if err != nil {
		return nil, err
	}
	rest, err := v.now()
	faults = slices.Concat(faults, lost, rest, settings.strangers)
	if err != nil || len(faults) == 0 {
		return reports, err
	}
	if len(reports) == 0 {
		reports = []MachineReport{{}}
	}
	reports[0].Faults = append(reports[0].Faults, faults...)
	return reports, nil
}

// machines lists every machine that has a row or records.
func (v *verifier) machines() (list []stored, err error) {
	err = v.each(`SELECT i.id, m.shop, coalesce(m.seq, 0), coalesce(m.fold, 0), m.head, coalesce(m.body, '') FROM
		(SELECT id FROM machine UNION SELECT machine FROM entry UNION SELECT machine FROM move
		 UNION SELECT machine FROM attachment UNION SELECT machine FROM claim
		 UNION SELECT machine FROM checkpoint UNION SELECT machine FROM learnt) i
		LEFT JOIN machine m ON m.id = i.id ORDER BY i.id`, nil,
		func(row file.Scanner) error {
			var m stored
			err := row.Scan(&m.id, &m.shop, &m.seq, &m.fold, &m.head, &m.body)
			list = append(list, m)
			return err
		})
	return list, err
}

// stray makes a row that is not where it belongs a fault of its machine; any other error
// keeps the file from being read.
func (rep *MachineReport) stray(err error) error {
	var lost *ledger.Stray
	if errors.As(err, &lost) {
		rep.fault("%s", lost)
		return nil
	}
	return err
}

// machine checks one machine's records, whose shop has settings up to newest;
// only what keeps the file from being read is an error.
func (v *verifier) machine(m stored, newest int64, t told, rep *MachineReport) error {
	if !v.since.IsZero() {
		return v.recent(m, newest, t, rep)
	}
	rows, err := ledger.ReadEntries(v.each, m.id)
	if err != nil {
		return rep.stray(err)
	}
	rep.Entries = len(rows)
	rep.Head = make([]byte, seal.Size)
	for _, e := range rows {
		rep.Moves += len(e.Moves)
		rep.Head, rep.Newest = e.Hash, file.Instant(e.Recorded)
		rep.Hashes = append(rep.Hashes, e.Hash)
	}
	rep.chain(rows, 0, make([]byte, seal.Size))
	rep.versions(m, rows, newest)
	if err := v.attachments(rows, rep); err != nil {
		return err
	}
	if err := v.pictures(rep); err != nil {
		return err
	}
	rep.Word = seal.CheckWord(seal.Joint(rep.Head, t.newest(rep.Shop)))
	if entries, err := ledger.Decode(rows); err == nil { // replay says what is wrong with them
		rep.pins(rows, entries, t)
	}
	marks, err := v.checkpoints(m.id)
	if err != nil {
		return err
	}
	after := rep.replay(m.id, rows, marks)
	rep.projection(m, after)
	for _, seq := range slices.Sorted(maps.Keys(marks)) {
		rep.fault("the books kept after entry %d are not those after it", seq)
	}
	if after == nil {
		return nil
	}
	if err := v.learnt(m.id, rows, rep); err != nil {
		return err
	}
	if err := v.claims(after, rep); err != nil {
		return err
	}
	return v.owing(after, rep)
}

func (rep *MachineReport) fault(format string, args ...any) {
	rep.Faults = append(rep.Faults, fmt.Sprintf(format, args...))
}

// chain checks that the entries after one, which has a hash, are numbered without a
// gap and that each holds the hash of the one before and of itself. It stops at the
// first break: every later entry would show it again.
func (rep *MachineReport) chain(rows []*ledger.Row, last int64, prev []byte) {
	for _, e := range rows {
		last++
		switch {
		case e.Seq != last:
			rep.fault("entry %d is missing", last)
			return
		case !bytes.Equal(e.Prev, prev):
			rep.fault("entry %d does not follow entry %d: the chain is broken", e.Seq, e.Seq-1)
			return
		case !bytes.Equal(e.Hash, ledger.Hash(e)):
			rep.fault("entry %d was changed: its hash does not match", e.Seq)
			return
		}
		prev = e.Hash
	}
}

// versions checks that the settings in force at each entry are still there. It
// stops at the first that are not: later entries mostly name the same.
func (rep *MachineReport) versions(m stored, rows []*ledger.Row, newest int64) {
	for _, e := range rows {
		if m.shop.Valid && (e.Settings < 1 || e.Settings > newest) {
			rep.fault("entry %d names settings %d of shop %d, which are not there", e.Seq, e.Settings, rep.Shop)
			return
		}
	}
}

// replay posts the entries anew, from nothing, and compares what each moves
// with the movements on record. It gives the books that result, or nil. What stands
// in a damaged file may be such that no program wrote it, and that the books were
// never made for: that is a fault, and the rest is looked at all the same.
func (rep *MachineReport) replay(id shop.MachineID, rows []*ledger.Row, marks map[int64]checkpoint) (
	m *books.Machine) {
	defer func() {
		if why := recover(); why != nil {
			rep.fault("the entries cannot be worked out: %v", why)
			m = nil
		}
	}()
	entries, err := ledger.Decode(rows)
	if err != nil {
		rep.fault("%s", err)
		return nil
	}
	m = books.New(id)
	stood := before{m.Clone()}
	for i, e := range entries {
		if fault := columns(rows[i], &e); fault != "" {
			rep.fault("entry %d: %s", e.Seq, fault)
			return nil
		}
		var moves []books.Move
		switch e.Kind {
		case books.Undo:
			then := stood.changed(changesFrom(entries[:i], e))
			m, moves, err = ledger.UndoOn(then, m, rows[then.Seq:i], entries[then.Seq:i:i], e)
		case books.Correction:
			then := stood.changed(changesFrom(entries[:i], e))
			m, moves, err = m.CorrectOn(then, entries[then.Seq:i:i], e)
		default:
			moves, err = m.Post(e)
		}
		if err != nil {
			rep.fault("entry %d cannot be: %s", e.Seq, err)
			return nil
		}
		if mark, kept := marks[e.Seq]; kept && mark.agrees(m, rows[i].Recorded) {
			delete(marks, e.Seq)
		}
		stood.keep(m)
		if n, ok := sameMoves(moves, rows[i].Moves); !ok {
			rep.fault("entry %d: movement %d is not what the entry moves", e.Seq, n)
			return nil
		}
	}
	rep.tally(rows)
	rep.periods(m)
	rep.corrected(id, rows, entries, marks)
	return rep.fold(id, entries, m)
}

// columns compares the columns of an entry with its body.
func columns(row *ledger.Row, e *books.Entry) string {
	switch {
	case row.Kind != string(e.Kind):
		return "its kind is not that of its body"
	case row.Period != ledger.PeriodOf(e):
		return "its period is not that of its body"
	case row.Happened != file.Milli(e.Happened):
		return "its time is not that of its body"
	}
	return ""
}

// sameMoves gives the first movement that differs.
func sameMoves(want, got []books.Move) (n int, ok bool) {
	for n := range max(len(want), len(got)) {
		if n >= len(want) || n >= len(got) || want[n] != got[n] {
			return n, false
		}
	}
	return 0, true
}

// tally adds up the movements on record: no box may ever hold fewer notes than
// none, and the notes of all places make up for each other.
func (rep *MachineReport) tally(rows []*ledger.Row) {
	sum := books.Balance{}
	for _, e := range rows {
		if err := sum.Apply(e.Moves); err != nil {
			rep.fault("entry %d: %s", e.Seq, err)
			return
		}
	}
	rep.conserved(sum)
}

// conserved checks that over all places every face value adds up to nothing:
// each note that is somewhere came from somewhere.
func (rep *MachineReport) conserved(tally books.Balance) {
	var sum books.Notes
	for _, n := range tally {
		sum.Add(n)
	}
	for _, f := range sum.Faces() {
		rep.fault("%d notes of %s come from nowhere", sum[f], f)
	}
}

// periods checks that at most one period is open; one entered later from paper
// stands beside it.
func (rep *MachineReport) periods(m *books.Machine) {
	open := int64(0)
	for _, p := range m.Periods {
		if p.Status != books.Open || p.Paper {
			continue
		}
		if open != 0 {
			rep.fault("periods %d and %d are both open", open, p.No)
		}
		open = p.No
	}
}

// fold checks that the fold over all entries gives the books that posting them
// one by one gave.
func (rep *MachineReport) fold(
	id shop.MachineID, entries []books.Entry, posted *books.Machine,
) *books.Machine {
	folded, err := books.Fold(id, entries)
	if err != nil {
		rep.fault("fold: %s", err)
		return nil
	}
	if !sameJSON(folded, posted) {
		rep.fault("the fold over %d entries differs from posting them one by one", len(entries))
		return nil
	}
	return folded
}

func sameJSON(a, b *books.Machine) bool {
	x, errX := json.Marshal(a)
	y, errY := json.Marshal(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

// projection compares what is kept at hand of a machine with its entries.
func (rep *MachineReport) projection(m stored, after *books.Machine) {
	switch {
	case !m.shop.Valid:
		rep.fault("the machine's own row is missing")
	case m.seq != int64(rep.Entries):
		rep.fault("the books stand at entry %d, the last one is %d", m.seq, rep.Entries)
	case m.fold != ledger.Arithmetic:
		rep.fault("the books at hand are those of another program; start the bot on the file once")
	case !bytes.Equal(m.head, rep.Head):
		rep.fault("the books stand on another entry %d than the last one", m.seq)
	case after != nil:
		if want, err := json.Marshal(after); err != nil || !bytes.Equal(want, m.body) {
			rep.fault("the books at hand differ from the fold over %d entries", rep.Entries)
		}
	}
}
