package books

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
)

// postMoved books movements between the machine, shop cash, till and bank.
func postMoved(m *Machine, p *Period, e *Entry) ([]Move, error) {
	var moves []Move
	for _, mv := range e.Moves {
		from, to := insideBox(p, mv.From, mv.Face), insideBox(p, mv.To, mv.Face)
		if mv.From.Inside() && from == nil || mv.To.Inside() && to == nil || from != nil && to != nil {
			return nil, &Refusal{Code: NoMove, Face: mv.Face, From: mv.From, To: mv.To}
		}
		if mv.Notes <= 0 && e.Rule >= movesSome {
			return nil, &Refusal{Code: BadMove, From: mv.From, To: mv.To, Want: mv.Notes, Face: mv.Face}
		}
		if from != nil {
			moves = takeOut(moves, p, from, mv.To, mv.Notes)
		} else {
			moves = append(moves, mv)
		}
		if to != nil {
			to.Added, to.Held = to.Added+mv.Notes, to.Held+mv.Notes
			p.Added.Plus(mv.Face, mv.Notes)
		}
	}
	switch e.Reason {
	case Change:
		m.owe(e, worth(e.Moves))
	case Returned:
		m.settle(worth(e.Moves))
	}
	return moves, nil
}

func insideBox(p *Period, place Place, face cashmath.Face) *BoxState {
	if p == nil {
		return nil
	}
	for i := range p.Boxes {
		if BoxPlace(p.Boxes[i].Position) == place && p.Boxes[i].Face == face {
			return &p.Boxes[i]
		}
	}
	return nil
}

// takeOut moves notes from a box to another place. More than the ledger holds
// is a difference that the close will show, so it comes from Gone first.
func takeOut(moves []Move, p *Period, b *BoxState, to Place, notes int64) []Move {
	if lack := notes - b.Held; lack > 0 {
		moves = add(moves, Gone, BoxPlace(b.Position), b.Face, lack)
		p.Gone.Plus(b.Face, -lack)
		b.Held += lack
	}
	moves = add(moves, BoxPlace(b.Position), to, b.Face, notes)
	b.Held -= notes
	b.Removed += notes
	p.Removed.Plus(b.Face, notes)
	return moves
}

// owe adds cash that is to be brought back from the till.
func (m *Machine) owe(e *Entry, value decimal.Decimal) {
	m.Debts = append(m.Debts, Debt{Seq: e.Seq, Happened: e.Happened, Day: e.Day, By: e.By, Value: value})
}
