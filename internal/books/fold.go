package books

import (
	"fmt"
	"slices"
	"time"

	"shopfloat/internal/shop"
)

// turn is an entry in the order in which it takes effect.
type turn struct {
	Entry        // as it holds now
	brief Brief  // as it was written
	idle  bool   // moves nothing: undone, taken back, or about another entry
	after *Entry // the correction it takes effect by, where that moved it
}

// Fold replays a machine's entries from nothing, oldest first, leaving out
// those that a later entry undoes, and what was ticked or noted of a period
// whose opening does not hold. What a correction puts in an entry's place takes
// effect where that entry did, or within the period it is moved to.
func Fold(id shop.MachineID, entries []Entry) (*Machine, error) {
	return replay(New(id), entries, nil, nil)
}

// FoldOn goes on from books that were folded over all entries before others, with
// these. The first stay as they are. No entry may be about one of before them.
func FoldOn(m *Machine, entries []Entry) (*Machine, error) {
	return replay(m.Clone(), entries, nil, nil)
}

// History replays a machine's entries like Fold and keeps every period, claim
// and payment at hand, to look back.
func History(id shop.MachineID, entries []Entry) (*Machine, error) {
	return HistoryOn(New(id), entries)
}

// HistoryOn is History from books on that were folded over all entries before these,
// as [FoldOn] is. What was at hand of before them still is.
func HistoryOn(m *Machine, entries []Entry) (*Machine, error) {
	m = m.Clone()
	m.all = true
	return replay(m, entries, nil, nil)
}

// Until replays a machine's entries that happened before an end, all of them where
// that is the zero time, and shows the state after each.
func Until(id shop.MachineID, entries []Entry, end time.Time, each func(*Machine)) (*Machine, error) {
	if end.IsZero() {
		return replay(New(id), entries, nil, each)
	}
	return Those(id, entries, func(e Entry) bool { return e.Happened.Before(end) }, each)
}

// Those replays the entries that count, and shows the state after each; nil: all.
func Those(id shop.MachineID, entries []Entry, counts func(Entry) bool,
	each func(*Machine)) (*Machine, error) {
	return replay(New(id), entries, counts, each)
}

// replay takes entries into m, those that count where it is said which do, and shows
// the state after each. What was moved to a period did not happen before that began.
func replay(m *Machine, entries []Entry, counts func(Entry) bool, each func(*Machine)) (*Machine, error) {
	turns := turnsOf(entries)
	briefs := make([]Brief, 0, len(turns))
	after := map[int64]bool{} // periods that begin only then
	for _, t := range turns {
		out := counts != nil && !counts(t.Entry) || after[t.Period] && !slices.Contains(free, t.Kind)
		if out && t.Kind == Opening {
			after[t.Seq] = true
		}
		if !t.idle && !out {
			e := t.Entry
			if _, err := m.post(&e); err != nil {
				return nil, fmt.Errorf("entry %d: %w", t.Seq, err)
			}
			if t.brief.Corrected == 0 {
				t.brief = briefOf(e)
			}
			if each != nil {
				each(m)
			}
		}
		briefs = append(briefs, t.brief)
	}
	slices.SortFunc(briefs, func(a, b Brief) int { return int(a.Seq - b.Seq) })
	for _, b := range briefs {
		if b.Kind != Dated {
			m.remember(b)
		}
		m.Seq = b.Seq
	}
	return m, nil
}

// InForce gives entries as they hold: without those that were undone or taken
// back, with what a correction put in their place, in the order in which they
// take effect.
func InForce(entries []Entry) []Entry {
	var list []Entry
	for _, t := range turnsOf(entries) {
		if !t.idle {
			list = append(list, t.Entry)
		}
	}
	return list
}

// From gives of a ledger the entries from a number on, and those earlier ones
// that they undo or correct: all that what is in force from there on hangs on.
func From(entries []Entry, seq int64) []Entry {
	wanted := map[int64]bool{}
	for _, e := range entries {
		if e.Seq >= seq && (e.Kind == Undo || e.Kind == Correction) {
			wanted[e.Target] = true
		}
	}
	var list []Entry
	for _, e := range entries {
		if e.Seq >= seq || wanted[e.Seq] {
			list = append(list, e)
		}
	}
	return list
}

// turnsOf puts entries into the order in which they take effect.
func turnsOf(entries []Entry) []turn {
	void, corrected := map[int64]bool{}, map[int64]*Entry{}
	for _, e := range entries {
		if e.Kind == Undo {
			void[e.Target] = true
		}
	}
	for i, e := range entries {
		if e.Kind == Correction && !void[e.Seq] {
			corrected[e.Target] = &entries[i]
		}
	}
	turns := make([]turn, 0, len(entries))
	var moved []turn
	days := daysIn(entries)
	for _, e := range entries {
		e = dayed(e, days)
		t := turn{Entry: e, brief: briefOf(e), idle: e.Kind == Undo || e.Kind == Correction}
		gone := void[e.Seq] || void[e.Period]
		t.brief.Void, t.idle = gone, t.idle || gone
		if by := corrected[e.Seq]; by != nil && !t.idle {
			t.correct(by)
		}
		if t.after != nil {
			moved = append(moved, t)
			continue
		}
		turns = append(turns, t)
	}
	for _, t := range moved {
		turns = slices.Insert(turns, placeFor(turns, t), t)
	}
	return turns
}

// correct puts what a correction says in the place of the entry.
func (t *turn) correct(by *Entry) {
	t.brief.Corrected = by.Seq
	if by.Instead == nil {
		t.idle = true
		return
	}
	moved, day := by.Instead.Period != t.Period, t.Day
	if moved {
		t.after = by
	}
	t.Record = *by.Instead
	switch {
	case !moved && t.Day == "":
		t.Day = day
	case moved && t.Day == day:
		t.Day = "" // told with its new period
	}
}

// placeFor finds where an entry takes effect that was moved to another period:
// before that period's count or, for a settlement, its close; in one that has
// none yet, when it was moved, or a settlement where it stood.
func placeFor(turns []turn, t turn) int {
	until := t.after.Seq
	if t.Kind == Settlement && t.after.Rule >= slipKeepsPlace {
		until = max(t.Seq, t.Period) + 1
	}
	for i, other := range turns {
		ends := other.Kind == Close || t.Kind != Settlement &&
			(other.Kind == Count || other.Kind == Settlement)
		if other.Seq >= until || !other.idle && other.Period == t.Period && ends {
			return i
		}
	}
	return len(turns)
}
