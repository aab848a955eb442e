// Package books is the ledger of a machine: notes move between places, both
// ends of a movement are made by one constructor, and everything a person can
// ask — what is inside, what is owed, whether it balances — is a fold over the
// entries. The package is pure: it reads no clock and no disk.
package books

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/cashmath"
)

// Place is where notes can be. Boxes, tray and path are inside the machine
// and never hold fewer than no notes; the others are boundary accounts that
// may go below zero.
type Place string

// The places. A note box is "box:1" and so on, see [BoxPlace].
const (
	Tray      Place = "tray"       // box for refused notes
	Path      Place = "path"       // found on the way of the notes, set aside
	Cash      Place = "cash"       // the shop's own cash, in its safe
	Till      Place = "till"       // the tills at the counter
	Bank      Place = "bank"       // the bank
	Customers Place = "customers"  // paid out and not cancelled
	Gone      Place = "gone"       // left the boxes, not explained yet by printed figures
	OverShort Place = "over-short" // differences found at a close
)

// Boxes says of test notes that each went back into its own note box. Nothing is held there.
const Boxes Place = "boxes"

// BoxPlace names the note box at a position; 1 is the top one.
func BoxPlace(position int) Place { return Place("box:" + strconv.Itoa(position)) }

// Inside reports whether a place is inside the machine and so never negative.
func (p Place) Inside() bool {
	return p == Tray || p == Path || strings.HasPrefix(string(p), "box:")
}

// Valid reports whether a place is one of ours.
func (p Place) Valid() bool {
	switch p {
	case Tray, Path, Cash, Till, Bank, Customers, Gone, OverShort:
		return true
	}
	n, err := strconv.Atoi(strings.TrimPrefix(string(p), "box:"))
	return err == nil && n > 0 && p == BoxPlace(n)
}

// Move is a movement of notes of one face value from one place to another.
type Move struct {
	From  Place         `json:"from"`
	To    Place         `json:"to"`
	Face  cashmath.Face `json:"face"`
	Notes int64         `json:"notes"` // above 0
}

// NewMove makes both ends of a movement. A negative number moves the other way.
func NewMove(from, to Place, face cashmath.Face, notes int64) Move {
	if notes < 0 {
		return Move{From: to, To: from, Face: face, Notes: -notes}
	}
	return Move{From: from, To: to, Face: face, Notes: notes}
}

// Notes counts notes by face value.
type Notes map[cashmath.Face]int64

// Add adds every count of o.
func (n *Notes) Add(o Notes) {
	for f, c := range o {
		n.Plus(f, c)
	}
}

// Plus adds c notes of one face value.
func (n *Notes) Plus(f cashmath.Face, c int64) {
	if c == 0 {
		return
	}
	if *n == nil {
		*n = Notes{}
	}
	(*n)[f] += c
	if (*n)[f] == 0 {
		delete(*n, f)
	}
}

// Faces lists the face values, highest first.
func (n Notes) Faces() []cashmath.Face {
	return slices.SortedFunc(maps.Keys(n), func(a, b cashmath.Face) int { return b.Cmp(a) })
}

// Balance is what each place holds.
type Balance map[Place]Notes

// At gives the notes of one face value at a place.
func (b Balance) At(p Place, f cashmath.Face) int64 { return b[p][f] }

// Apply books movements. It refuses one that would leave fewer than no notes
// inside the machine; b is unchanged then.
func (b Balance) Apply(moves []Move) error {
	for i, m := range moves {
		if err := b.apply(m); err != nil {
			for j := i - 1; j >= 0; j-- {
				b.shift(moves[j].To, moves[j].From, moves[j])
			}
			return err
		}
	}
	return nil
}

func (b Balance) apply(m Move) error {
	if m.Notes <= 0 || m.From == m.To || !m.From.Valid() || !m.To.Valid() {
		return &Refusal{Code: BadMove, From: m.From, To: m.To, Want: m.Notes, Face: m.Face}
	}
	if have := b.At(m.From, m.Face); m.From.Inside() && have < m.Notes {
		return &Refusal{Code: TooFew, From: m.From, Face: m.Face, Have: have, Want: m.Notes}
	}
	b.shift(m.From, m.To, m)
	return nil
}

func (b Balance) shift(from, to Place, m Move) {
	b.plus(from, m.Face, -m.Notes)
	b.plus(to, m.Face, m.Notes)
}

// plus adds notes to what a place holds.
func (b Balance) plus(p Place, face cashmath.Face, notes int64) {
	had := b[p]
	now := had
	now.Plus(face, notes)
	switch {
	case len(now) == 0:
		delete(b, p)
	case had == nil: // else it is the same map
		b[p] = now
	}
}

// Clone copies a balance.
func (b Balance) Clone() Balance {
	c := make(Balance, len(b))
	for p, n := range b {
		c[p] = maps.Clone(n)
	}
	return c
}
