package closing

import (
	"maps"
	"slices"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/diagnosis"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

// change is one figure of a period that would be another one.
type change struct {
	field    diagnosis.Field
	lot      int // of top-ups
	face     cashmath.Face
	from, to int64
}

// mend gives the changes that an explanation stands for; none when it is
// nothing that can be typed: notes to look for, or a call to make.
func mend(c *engine.Talk, p *books.Period, cause diagnosis.Cause) []change {
	facts := trade.Evidence(c, p)
	var list []change
	for _, s := range cause.Slips {
		changes := mendSlip(facts.Day, s)
		if len(changes) == 0 {
			return nil
		}
		list = append(list, changes...)
	}
	if !balances(facts.Day, list) || !canChange(c, p, list) {
		return nil
	}
	return list
}

func mendSlip(day cashmath.Day, s diagnosis.Slip) []change {
	set := func(face cashmath.Face, to int64) change {
		return change{s.Field, s.Lot, face, lotOf(&day, s.Field, s.Lot)[face], to}
	}
	at := lotOf(&day, s.Field, s.Lot)
	switch s.ID {
	case diagnosis.DigitsTransposed, diagnosis.DigitSlid, diagnosis.ValueForQuantity:
		return []change{set(s.Face, *s.Likely)}
	case diagnosis.LinesExchanged:
		return []change{set(s.Face, at[s.OtherFace]), set(s.OtherFace, at[s.Face])}
	case diagnosis.WrongLine:
		return []change{set(s.Face, *s.Likely), set(s.OtherFace, at[s.OtherFace]+*s.Typed-*s.Likely)}
	}
	var list []change
	for _, l := range cashmath.Reconcile(day).Lines {
		v := l.VarianceNotes
		switch {
		case v == 0:
		case s.ID == diagnosis.TopupTwice || s.ID == diagnosis.RejectsCountedTwice:
			list = append(list, set(l.Face, 0))
		case s.ID == diagnosis.ReversalSign && s.Field == diagnosis.Dispensed:
			list = append(list, set(l.Face, at[l.Face]-v))
		case s.ID == diagnosis.LeftInOvernight:
			list = append(list, set(l.Face, at[l.Face]+v))
		}
	}
	return list
}

// lotOf finds the notes of a field; nil for one that is not there.
func lotOf(day *cashmath.Day, f diagnosis.Field, lot int) cashmath.Notes {
	switch f {
	case diagnosis.Loaded:
		return day.Loaded
	case diagnosis.Dispensed:
		return day.Dispensed
	case diagnosis.Reversed:
		return day.Reversed
	case diagnosis.Remaining:
		return day.Remaining
	case diagnosis.Rejects:
		return day.Rejects
	case diagnosis.Topups:
		if lot < len(day.Topups) {
			return day.Topups[lot]
		}
	}
	return nil
}

// balances reports whether a day would balance with the changes.
func balances(day cashmath.Day, list []change) bool {
	for _, n := range []*cashmath.Notes{&day.Loaded, &day.Dispensed, &day.Reversed, &day.Remaining,
		&day.Rejects} {
		if *n = maps.Clone(*n); *n == nil {
			*n = cashmath.Notes{}
		}
	}
	day.Topups = slices.Clone(day.Topups)
	for i := range day.Topups {
		day.Topups[i] = maps.Clone(day.Topups[i])
	}
	for _, x := range list {
		n := lotOf(&day, x.field, x.lot)
		if n == nil || x.to < 0 {
			return false
		}
		n[x.face] = x.to
	}
	return cashmath.Reconcile(day).Verdict == cashmath.Balanced
}

// canChange reports whether each figure is one that a person gave, in one box
// and in one record.
func canChange(c *engine.Talk, p *books.Period, list []change) bool {
	lots := trade.LotsOf(c, p)
	for _, x := range list {
		boxes := 0
		for _, b := range p.Boxes {
			if b.Face == x.face {
				boxes++
			}
		}
		switch x.field {
		case diagnosis.Loaded, diagnosis.Remaining:
			if boxes != 1 || !trade.HasLedger(c) && x.field == diagnosis.Loaded {
				return false
			}
		case diagnosis.Topups:
			if x.lot >= len(lots) || lots[x.lot].Seq == 0 || boxes != 1 || !trade.HasLedger(c) {
				return false
			}
		case diagnosis.Dispensed, diagnosis.Reversed:
			if kept(c).NoMore || len(ask.Target(c).Slips) > 0 ||
				c.Counted("last-seen") != nil {
				return false
			}
		}
	}
	return !p.Taken || trade.HasLedger(c)
}
