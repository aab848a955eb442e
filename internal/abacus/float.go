package abacus

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/stand"
)

// pay goes through what the bank did.
func (s *sheet) pay(entries []books.Entry, end time.Time) {
	f := &s.Float
	for _, r := range holding(entries) {
		if !end.IsZero() && !r.Happened.Before(end) {
			continue
		}
		for _, a := range r.Amounts {
			switch {
			case r.Kind == books.Credit:
				f.Came += Of(a.Value)
			case r.Kind == books.Debit:
				f.Came -= Of(a.Value)
			}
		}
		for _, p := range r.Parts {
			s.part(p)
		}
	}
}

func (s *sheet) part(p books.Part) {
	gaps, value, claim := s.Float.Gaps, Of(p.Value), s.Claims[p.Of]
	switch p.As {
	case books.Pays:
		if claim != nil {
			claim.Paid += value
			return
		}
		gaps[stand.ByLoose] += value
	case books.GivenUp:
		if claim != nil { // there is nothing to give up of a slip that was none
			claim.GivenUp += value
			gaps[stand.ByGivenUp] -= value
		}
	case books.Charge:
		gaps[stand.ByCharge] += value
	case books.Fee:
		gaps[stand.ByFees] += value
	case books.Dispute:
		gaps[stand.ByDispute] += value
	default:
		gaps[stand.ByLoose] += value
	}
}

// sum adds up where the money is and why it is not what was put in.
func (s *sheet) sum() {
	f := &s.Float
	for _, d := range s.Days {
		missing := d.missing().worth()
		switch {
		case !d.Counted:
			f.Inside += d.in.worth() - d.out.worth() + d.beyond - d.sums()
			for _, slip := range d.Slips {
				f.Inside -= slip.paid.worth()
			}
			f.Gaps[stand.NoFigures] += d.beyond
		case !d.Closed:
			f.Inside += d.tray.worth() + d.path.worth()
			if !d.taken {
				f.Inside += d.inBoxes().worth()
			}
			f.Gaps[stand.NoFigures] -= missing
			f.Gaps[stand.ByAmount] += d.sums()
		case d.amounts:
			f.Gaps[stand.ByAmount] += d.sums() - missing
		default:
			f.Gaps[stand.ByCount] -= missing
		}
		if d.Closed && d.noTray {
			f.Inside += d.tray.worth() // nobody emptied it
		}
		if d.Closed && !d.empty && !d.taken {
			f.Inside += d.inBoxes().worth()
		}
	}
	for _, c := range s.Claims {
		f.ByBank += c.Value - c.Paid - c.GivenUp
	}
	f.Cash = s.cash + f.Taken
}
