package books

import (
	"cmp"
	"fmt"
	"slices"

	"shopfloat/internal/shop"
)

// turn is an entry in the order in which it takes effect.
type turn struct {
	Entry            // as it holds now
	was       *Entry // as it was written, where a correction says something else
	by        *Entry // that correction
	void      bool   // undone, or of a period that was
	idle      bool   // moves nothing: undone, taken back, or about another entry
	elsewhere bool   // moved to another period
	done      bool   // has taken effect
}

// brief is the turn as history tells it.
func (t *turn) brief() Brief {
	if t.by == nil {
		b := briefOf(t.Entry)
		b.Void = t.void
		return b
	}
	b := briefOf(*t.was)
	b.Void, b.Corrected = t.void, t.by.Seq
	return b
}

// Fold replays a machine's entries from nothing, oldest first, leaving out
// those that a later entry undoes, and what was ticked or noted of a period
// whose opening does not hold. What a correction puts in an entry's place takes
// effect where that entry did, or within the period it is moved to.
func Fold(id shop.MachineID, entries []Entry) (*Machine, error) {
	return replay(New(id), entries, nil, nil)
}

// FoldOn goes on from books that were folded over all entries before others, with
// these. The first stay as they are. What is about one of before them is in force in them.
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
func HistoryOn(m *Machine, entries []Entry) (*Machine, error) { return WalkOn(m, entries, nil) }

// WalkOn replays entries as they hold, in the order in which they take effect, and shows the
// state after each, with all of the past at hand: from books on that were folded over all
// entries before these. It gives what [HistoryOn] gives. fn must neither change nor keep
// what it is shown.
func WalkOn(m *Machine, entries []Entry, fn func(Entry, *Machine)) (*Machine, error) {
	m = m.Clone()
	m.all = true
	return replay(m, entries, nil, fn)
}

// StagesOn goes on from books as [FoldOn] does, and gives them as they are after each entry that is
// wanted, with what later ones of these correct and take back. No payment may be on its way then to a
// slip that comes later, and no entry to where a correction moves it.
func StagesOn(m *Machine, entries []Entry, wanted func(Entry) bool) (list []*Machine, err error) {
	turns := turnsOf(entries)
	_, err = take(m.Clone(), turns, nil, func(e Entry, now *Machine) {
		if wanted(e) {
			now = now.Clone()
			now.lenient = false
			now.rememberAll(slices.DeleteFunc(slices.Clone(turns), func(t *turn) bool { return t.Seq > e.Seq }))
			list = append(list, now)
		}
	})
	return list, err
}

// ThoseOn replays the entries that count, from books on that were folded over all entries
// before these, which count.
func ThoseOn(m *Machine, entries []Entry, counts func(Entry) bool) (*Machine, error) {
	return replay(m.Clone(), entries, counts, nil)
}

// replay takes entries into m, those that count where it is said which do, and shows
// the state after each. What was moved to a period did not happen before that began.
func replay(m *Machine, entries []Entry, counts func(Entry) bool,
	each func(Entry, *Machine)) (*Machine, error) {
	return take(m, turnsOf(entries), counts, each)
}

func take(m *Machine, turns []*turn, counts func(Entry) bool, each func(Entry, *Machine)) (*Machine, error) {
	after := map[int64]bool{} // periods that begin only then
	paid, bears := earlies(turns), lastBearing(turns)
	for _, t := range turns {
		out := counts != nil && !counts(t.Entry) || after[t.Period] && !slices.Contains(free, t.Kind)
		if out && t.Kind == Opening {
			after[t.Seq] = true
		}
		if t.idle || out {
			continue
		}
		m.lenient = counts != nil || t.Seq < bears
		if _, err := m.post(&t.Entry); err != nil { // which adds to a close what it found
			return nil, fmt.Errorf("entry %d: %w", t.Seq, err)
		}
		t.done = true
		m.reach(paid[t.Seq])
		if each != nil {
			each(t.Entry, m)
		}
	}
	m.lenient = false
	m.rememberAll(turns)
	return m, nil
}

// rememberAll keeps of entries, in the order in which they were written, what history tells.
func (m *Machine) rememberAll(turns []*turn) {
	list := make([]*turn, 0, len(turns))
	for _, t := range turns {
		m.Seq = max(m.Seq, t.Seq)
		if t.Kind != Dated {
			list = append(list, t)
		}
	}
	slices.SortFunc(list, func(a, b *turn) int { return cmp.Compare(a.Seq, b.Seq) })
	if over := len(list) - keepRecent; over > 0 && !m.all {
		list = list[over:]
	}
	for _, t := range list {
		m.remember(t.brief())
	}
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

// turnsOf puts entries into the order in which they take effect.
func turnsOf(entries []Entry) []*turn {
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
	turns, own := make([]*turn, 0, len(entries)), make([]turn, len(entries))
	var moved []*turn
	days := daysIn(entries)
	for i := range entries {
		t := &own[i]
		t.Entry = dayed(entries[i], days)
		t.void = void[t.Seq] || void[t.Period]
		t.idle = t.void || t.Kind == Undo || t.Kind == Correction
		if by := corrected[t.Seq]; by != nil && !t.idle {
			t.correct(by)
		}
		if t.elsewhere {
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
	was := t.Entry
	t.was, t.by = &was, by
	if by.Instead == nil {
		t.idle = true
		return
	}
	t.elsewhere = by.Instead.Period != t.Period
	t.Record = *by.Instead
	switch {
	case !t.elsewhere && t.Day == "":
		t.Day = was.Day
	case t.elsewhere && t.Day == was.Day:
		t.Day = "" // told with its new period
	}
}

// placeFor finds where an entry takes effect that was moved to another period: before that period's
// first slip, also one that was moved there and is older, or count; a settlement before its close. In
// one that has none yet it is when it was moved, or where the settlement stood.
func placeFor(turns []*turn, t *turn) int {
	until := t.by.Seq
	if t.Kind == Settlement && t.by.Rule >= slipKeepsPlace {
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
