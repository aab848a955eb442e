package ledger

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// recordedOn is the day by which checkpoints are kept.
func recordedOn(e *books.Entry) shop.Date { return shop.DateOf(e.Recorded.UTC()) }

// keepBooks keeps the books after an entry.
func (t Ledger) keepBooks(id shop.MachineID, e *books.Entry, body []byte) error {
	err := t.tx.Exec("INSERT INTO checkpoint (machine, seq, day, body) VALUES (?, ?, ?, ?)",
		id, e.Seq, recordedOn(e), string(body))
	if err != nil {
		return fmt.Errorf("checkpoint of machine %d: %w", id, err)
	}
	return nil
}

// keepAgain keeps checkpoints from an entry on that a correction, or an undo, changes the effect of:
// the books after closes with that in force, so that whoever asks about days since need not begin
// before the entry. There are none of a month that is finished, whose figures stay what they were.
func (t Ledger) keepAgain(e *books.Entry, back *past) error {
	entries := append(slices.Clip(back.entries), *e)
	closes := thinned(closesBetween(entries, back.from), recordedOn(e))
	if len(closes) == 0 {
		return nil
	}
	finished, err := t.finished(e.Machine)
	if err != nil {
		return err
	}
	closes = slices.DeleteFunc(closes, func(seq int64) bool { return seq <= finished })
	stages, err := books.StagesOn(back.then, entries, func(e books.Entry) bool {
		return slices.Contains(closes, e.Seq)
	})
	if err != nil {
		return fmt.Errorf("machine %d with entry %d: %w", e.Machine, e.Seq, err)
	}
	for _, m := range stages {
		body, err := json.Marshal(m)
		if err != nil {
			return fmt.Errorf("checkpoint of machine %d: %w", e.Machine, err)
		}
		if err := t.keepBooks(e.Machine, &entries[m.Seq-back.then.Seq-1], body); err != nil {
			return err
		}
	}
	return nil
}

// finished is the last entry that is in a finished month of a machine.
func (t Ledger) finished(id shop.MachineID) (upto int64, err error) {
	err = t.tx.One(`SELECT coalesce(max(json_extract(upto, '$."' || ?1 || '"')), 0) FROM month
		WHERE shop = (SELECT shop FROM machine WHERE id = ?1)`, []any{id}, &upto)
	return upto, err
}

// closesBetween lists the closes from an entry on after which nothing is on its way to where a correction
// puts it: a record to another period, a payment to a slip that comes later.
func closesBetween(entries []books.Entry, from int64) (closes []*books.Entry) {
	first := from
	var ways [][2]int64
	at := make(map[int64]*books.Entry, len(entries))
	for i := range entries {
		e := &entries[i]
		at[e.Seq] = e
		switch {
		case e.Kind == books.Dated:
			first = max(first, e.Seq)
		case e.Kind == books.Correction && e.Instead != nil && at[e.Target] != nil: // else it is in force already
			ways = append(ways, wayOf(at[e.Target], e))
		}
	}
	for i := range entries {
		seq := entries[i].Seq
		under := func(way [2]int64) bool { return way[0] <= seq && seq < way[1] }
		if entries[i].Kind == books.Close && seq >= first && !slices.ContainsFunc(ways, under) {
			closes = append(closes, &entries[i])
		}
	}
	return closes
}

// wayOf is between which entries what a correction says takes effect.
func wayOf(old, e *books.Entry) [2]int64 {
	way, in := [2]int64{old.Seq, old.Seq}, e.Instead
	if in.Period != old.Period {
		way = [2]int64{min(old.Seq, in.Period), e.Seq}
	}
	for _, p := range in.Parts {
		way[1] = max(way[1], p.Of)
	}
	return way
}

// thinned picks, of closes, those of which checkpoints would be left by now.
func thinned(closes []*books.Entry, today shop.Date) (kept []int64) {
	weeks, months := map[[2]int]bool{}, map[shop.Date]bool{}
	for i, e := range closes {
		day := recordedOn(e)
		year, week := day.Time().In(time.UTC).ISOWeek()
		inWeek, inMonth := [2]int{year, week}, day[:len("2006-01")]
		if i >= len(closes)-keepCheckpoints || !months[inMonth] || day > today.Add(-keepWeeks) && !weeks[inWeek] {
			kept = append(kept, e.Seq)
		}
		weeks[inWeek], months[inMonth] = true, true
	}
	return kept
}
