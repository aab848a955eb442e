package books

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"

	"shopfloat/internal/cashmath"
)

// correctable kinds are those that somebody told; what follows from them is
// worked out anew.
var correctable = []Kind{
	Opening, TopUp, Swap, Moved, Test, Found, Count, Settlement, Credit, Debit, Matched,
}

// Correctable reports whether a record of a kind can be corrected.
func Correctable(k Kind) bool { return slices.Contains(correctable, k) }

// CorrectOn takes the next entry, a correction, into the books. The record it is about is
// taken back and another holds in its place, or none; everything that follows from it is
// worked out anew: from books on that stood before anything it changes, with the claims at
// hand that were paid for since, and all entries since. It gives the books that result and
// what moves by it. The books at hand stay as they are.
func (m *Machine) CorrectOn(then *Machine, since []Entry, e Entry) (*Machine, []Move, error) {
	if e.Seq != m.Seq+1 || then.Seq+int64(len(since)) != m.Seq {
		return nil, nil, fmt.Errorf("entry %d does not follow entry %d", e.Seq, m.Seq)
	}
	if err := checkCorrection(since, e); err != nil {
		return nil, nil, err
	}
	after, err := FoldOn(then, append(slices.Clip(since), e))
	if err != nil {
		return nil, nil, unfit(e.Target, err)
	}
	return after, transfers(m.Balance, after.Balance), nil
}

// unfit says that the entries do not fit together with a correction. What means
// a broken file does so here as well.
func unfit(target int64, err error) error {
	if _, ok := errors.AsType[*Refusal](err); ok {
		return &Refusal{Code: Unfit, Entry: target, cause: err}
	}
	return fmt.Errorf("entry %d cannot be corrected so: %w", target, err)
}

func checkCorrection(entries []Entry, e Entry) error {
	at, ok := find(entries, e.Target)
	if !ok {
		return &Refusal{Code: NoRecord, Entry: e.Target}
	}
	if e.Rule < 0 || e.Rule > rules[Correction] {
		return fmt.Errorf("correction by unknown rule %d", e.Rule)
	}
	old := entries[at]
	if !Correctable(old.Kind) {
		return &Refusal{Code: Uncorrected, Kind: old.Kind}
	}
	if e.Reason == "" {
		return &Refusal{Code: NoReason}
	}
	if e.Instead == nil && (old.Kind == Opening || old.Kind == Count) {
		return &Refusal{Code: NeedsAnother, Kind: old.Kind}
	}
	if e.Instead != nil && (e.Instead.Kind != old.Kind || e.Instead.Instead != nil) {
		return &Refusal{Code: OtherKind, Kind: e.Instead.Kind, Was: old.Kind}
	}
	for _, x := range entries {
		if x.Kind == Undo && x.Target == e.Target {
			return &Refusal{Code: WasUndone, Entry: e.Target, By: x.Seq}
		}
	}
	return nil
}

// find gives the place of an entry among others, oldest first.
func find(entries []Entry, seq int64) (int, bool) {
	return slices.BinarySearchFunc(entries, seq, func(e Entry, seq int64) int { return cmp.Compare(e.Seq, seq) })
}

// ChangesFrom is the first entry of which a correction can change the effect.
func (r *Record) ChangesFrom() int64 {
	if in := r.Instead; in != nil && in.Period != 0 {
		return min(r.Target, in.Period)
	}
	return r.Target
}

// transfers gives the movements that lead from one balance to another. Both
// hold the same notes over all places.
func transfers(from, to Balance) []Move {
	var moves []Move
	for _, face := range facesOf(from, to) {
		places := map[Place]int64{}
		for p, n := range from {
			places[p] -= n[face]
		}
		for p, n := range to {
			places[p] += n[face]
		}
		moves = append(moves, level(face, places)...)
	}
	return moves
}

func facesOf(balances ...Balance) []cashmath.Face {
	var all Notes
	for _, b := range balances {
		for _, n := range b {
			for f := range n {
				if all[f] == 0 {
					all.Plus(f, 1)
				}
			}
		}
	}
	return all.Faces()
}

// level moves notes of one face value from the places that have too many to
// those that lack some, each in the order of their names.
func level(face cashmath.Face, places map[Place]int64) []Move {
	var moves []Move
	names := slices.Sorted(maps.Keys(places))
	for _, to := range names {
		for _, from := range names {
			n := min(places[to], -places[from])
			if n <= 0 {
				continue
			}
			moves = append(moves, NewMove(from, to, face, n))
			places[to], places[from] = places[to]-n, places[from]+n
		}
	}
	return moves
}
