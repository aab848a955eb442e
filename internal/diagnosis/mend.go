package diagnosis

import (
	"maps"
	"slices"

	"shopfloat/internal/cashmath"
)

// A Change is one figure of a period that would be another one.
type Change struct {
	Field    Field
	Lot      int // of top-ups
	Face     cashmath.Face
	From, To int64
}

// Mend gives the changes that an explanation of a day stands for; none when it is
// nothing that can be typed, notes to look for or a call to make, and where the
// day would not balance with them.
func Mend(day cashmath.Day, cause Cause) []Change {
	var list []Change
	for _, s := range cause.Slips {
		changes := mendSlip(day, s)
		if len(changes) == 0 {
			return nil
		}
		list = append(list, changes...)
	}
	if !balances(day, list) {
		return nil
	}
	return list
}

func mendSlip(day cashmath.Day, s Slip) []Change {
	set := func(face cashmath.Face, to int64) Change {
		return Change{s.Field, s.Lot, face, lotOf(&day, s.Field, s.Lot)[face], to}
	}
	at := lotOf(&day, s.Field, s.Lot)
	switch s.ID {
	case DigitsTransposed, DigitSlid, ValueForQuantity:
		return []Change{set(s.Face, *s.Likely)}
	case LinesExchanged:
		return []Change{set(s.Face, at[s.OtherFace]), set(s.OtherFace, at[s.Face])}
	case WrongLine:
		return []Change{set(s.Face, *s.Likely), set(s.OtherFace, at[s.OtherFace]+*s.Typed-*s.Likely)}
	}
	var list []Change
	for _, l := range cashmath.Reconcile(day).Lines {
		v := l.VarianceNotes
		switch {
		case v == 0:
		case s.ID == TopupTwice || s.ID == RejectsCountedTwice:
			list = append(list, set(l.Face, 0))
		case s.ID == ReversalSign && s.Field == Dispensed:
			list = append(list, set(l.Face, at[l.Face]-v))
		case s.ID == LeftInOvernight:
			list = append(list, set(l.Face, at[l.Face]+v))
		}
	}
	return list
}

// lotOf finds the notes of a field; nil for one that is not there.
func lotOf(day *cashmath.Day, f Field, lot int) cashmath.Notes {
	switch f {
	case Loaded:
		return day.Loaded
	case Dispensed:
		return day.Dispensed
	case Reversed:
		return day.Reversed
	case Remaining:
		return day.Remaining
	case Rejects:
		return day.Rejects
	case Topups:
		if lot < len(day.Topups) {
			return day.Topups[lot]
		}
	}
	return nil
}

// balances reports whether a day would balance with the changes.
func balances(day cashmath.Day, list []Change) bool {
	for _, n := range []*cashmath.Notes{&day.Loaded, &day.Dispensed, &day.Reversed, &day.Remaining,
		&day.Rejects} {
		*n = cashmath.Sum(*n)
	}
	day.Topups = slices.Clone(day.Topups)
	for i := range day.Topups {
		day.Topups[i] = maps.Clone(day.Topups[i])
	}
	for _, x := range list {
		n := lotOf(&day, x.Field, x.Lot)
		if n == nil || x.To < 0 {
			return false
		}
		n[x.Face] = x.To
	}
	return cashmath.Reconcile(day).Verdict == cashmath.Balanced
}

// Counted reports whether a figure is one of a count.
func (x Change) Counted() bool { return x.Field == Remaining || x.Field == Rejects }

// Changed is a figure as it would be with the changes.
func Changed(list []Change, field Field, face cashmath.Face, notes int64) int64 {
	for _, x := range list {
		if x.Field == field && x.Face == face {
			notes = x.To
		}
	}
	return notes
}
