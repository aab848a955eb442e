package abacus

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
)

// sheet is one while it is filled in.
type sheet struct {
	Sheet
	cash Cents // of the shop's own, after what was taken for the machine
	last *Day  // from which the next opening fills up
}

func (s *sheet) take(r record) {
	d := s.Days[r.Period]
	switch r.Kind {
	case books.Opening:
		s.open(r)
	case books.TopUp, books.Swap:
		for _, f := range r.Figures {
			if f.Field == books.Left {
				d.takeOut(f.Box, f.Notes)
				s.cash += kinds{f.Face: f.Notes}.worth()
				continue
			}
			d.put(f.Box, f.Face, f.Notes)
			s.cash -= kinds{f.Face: f.Notes}.worth()
		}
	case books.Moved:
		s.moved(r, d)
	case books.Test:
		s.test(r, d)
	case books.Found:
		for _, f := range r.Figures {
			if r.Where == books.Tray {
				d.tray[f.Face] += f.Notes
			} else {
				d.path[f.Face] += f.Notes
			}
		}
	case books.Count:
		s.count(r, d)
	case books.Settlement:
		s.settle(r, d)
	case books.Close:
		s.close(r, d)
	}
}

func (s *sheet) open(r record) {
	late := slices.Contains(r.Marks, books.Paper) && s.atWork()
	d := &Day{Date: r.Day, in: kinds{}, out: kinds{}, tray: kinds{}, path: kinds{}, tests: kinds{},
		left: map[int]int64{}, faces: map[int]cashmath.Face{}, owned: map[int]int64{}, paper: late}
	for _, f := range r.Figures {
		d.put(f.Box, f.Face, f.Notes)
	}
	s.cash -= d.in.worth()
	if !late {
		if s.last != nil {
			s.cash += s.last.inBoxes().worth() // it is part of what is inside now
			s.last = nil
		}
		for _, old := range s.Days {
			old.taken = old.taken || !old.paper
		}
	}
	s.Days[r.seq] = d
}

// atWork reports whether a day is open, one that was not entered late.
func (s *sheet) atWork() bool {
	for _, d := range s.Days {
		if !d.Counted && !d.paper {
			return true
		}
	}
	return false
}

func (d *Day) put(box int, face cashmath.Face, notes int64) {
	d.in[face] += notes
	d.faces[box] = face
	d.owned[box] += notes
}

func (d *Day) takeOut(box int, notes int64) {
	d.need(box, notes)
	d.out[d.faces[box]] += notes
	d.owned[box] -= notes
}

// need notes down what a box must have held though nobody knew of it.
func (d *Day) need(box int, notes int64) {
	if more := notes - d.owned[box]; more > 0 {
		d.beyond += kinds{d.faces[box]: more}.worth()
		d.owned[box] += more
	}
}

func (d *Day) inBoxes() kinds {
	k := kinds{}
	for box, notes := range d.left {
		k[d.faces[box]] += notes
	}
	return k
}

func (s *sheet) moved(r record, d *Day) {
	for _, m := range r.Moves {
		for place, notes := range map[books.Place]int64{m.From: -m.Notes, m.To: m.Notes} {
			box, inside := strings.CutPrefix(string(place), "box:")
			worth := kinds{m.Face: notes}.worth()
			n, err := strconv.Atoi(box)
			switch {
			case inside && err != nil:
				panic("a box without a number: " + string(place))
			case inside && notes < 0:
				d.takeOut(n, -notes)
			case inside:
				d.put(n, m.Face, notes)
			default:
				s.outside(place, worth)
			}
		}
		worth := kinds{m.Face: m.Notes}.worth()
		switch r.Reason {
		case books.Change:
			s.Float.Debts += worth
		case books.Returned:
			s.Float.Debts = max(0, s.Float.Debts-worth)
		}
	}
}

// outside adds to a place that is not in the machine.
func (s *sheet) outside(place books.Place, worth Cents) {
	switch place {
	case books.Cash:
		s.cash += worth
	case books.Till:
		s.Float.Till += worth
	case books.Bank:
		s.Float.Brought -= worth
	}
}

func (s *sheet) test(r record, d *Day) {
	for _, f := range r.Figures {
		if slices.Contains(r.Marks, books.Counted) {
			d.tests[f.Face] += f.Notes
		}
		switch r.Where {
		case books.Boxes:
		case books.Tray:
			d.need(f.Box, f.Notes)
			d.owned[f.Box] -= f.Notes
			d.tray[f.Face] += f.Notes
		default:
			d.takeOut(f.Box, f.Notes)
			s.outside(r.Where, kinds{f.Face: f.Notes}.worth())
			if r.Where == books.Till {
				s.Float.Debts += kinds{f.Face: f.Notes}.worth()
			}
		}
	}
}

func (s *sheet) count(r record, d *Day) {
	d.noTray = slices.Contains(r.Marks, books.NoTray)
	tray, path := kinds{}, kinds{}
	for _, f := range r.Figures {
		switch f.Field {
		case books.Remaining:
			d.left[f.Box] = f.Notes
		case books.Refused:
			tray[f.Face] += f.Notes
		case books.FoundAt:
			path[f.Face] += f.Notes
		}
	}
	if d.path = path; !d.noTray {
		d.tray = tray
	}
	d.Counted = true
	if !d.paper {
		s.last = d
	}
}

func (s *sheet) settle(r record, d *Day) {
	slip := Slip{Seq: r.seq, Day: cmp.Or(r.Day, d.Date), paid: kinds{}}
	if r.moved {
		slip.Day = d.Date
	}
	for _, f := range r.Figures {
		worth := kinds{f.Face: f.Notes}.worth()
		if f.Field == books.Cancelled {
			slip.Cancelled += worth
			slip.paid[f.Face] -= f.Notes
			continue
		}
		slip.Paid += worth
		slip.paid[f.Face] += f.Notes
	}
	for _, a := range r.Amounts {
		d.amounts, slip.paid = true, nil
		if a.Field == books.Cancelled {
			slip.Cancelled += Of(a.Value)
		} else {
			slip.Paid += Of(a.Value)
		}
	}
	slip.Due = slip.Paid - slip.Cancelled - d.tests.worth()
	for face, notes := range d.tests { // they are on this slip, and on no later one
		if slip.paid != nil {
			slip.paid[face] -= notes
		}
	}
	d.tests = kinds{}
	d.cut = d.cut || slices.Contains(r.Marks, books.Unsettled)
	d.Slips = append(d.Slips, slip)
	if slip.Due != 0 {
		s.Claims[r.seq] = &Claim{Day: slip.Day, Value: slip.Due}
	}
}

// missing is, by kind, what is not there of what should be, by all that is known.
func (d *Day) missing() kinds {
	k := kinds{}
	add := func(sign int64, more kinds) {
		for face, notes := range more {
			k[face] += sign * notes
		}
	}
	add(1, d.in)
	add(-1, d.out)
	add(-1, d.inBoxes())
	add(-1, d.tray)
	add(-1, d.path)
	for _, s := range d.Slips {
		add(-1, s.paid)
	}
	return k
}

// sums is what slips say that tell sums and no kinds.
func (d *Day) sums() (sum Cents) {
	for _, s := range d.Slips {
		if s.paid == nil {
			sum += s.Due
		}
	}
	return sum
}

func (s *sheet) close(r record, d *Day) {
	d.Closed = true
	d.Difference = d.sums() - d.missing().worth()
	d.Verdict, d.ByKind = "balanced", map[cashmath.Face]int64{}
	for face, notes := range d.missing() {
		if notes != 0 && !d.amounts {
			d.Verdict, d.ByKind[face] = "mixed", -notes
		}
	}
	switch {
	case d.Difference < 0:
		d.Verdict = "short"
	case d.Difference > 0:
		d.Verdict = "over"
	}
	d.Complete = !d.cut && (!d.noTray || d.Verdict == "balanced")
	if !d.Complete {
		d.Verdict = "not-complete"
	}
	out := cmp.Or(r.Where, books.Cash)
	if !d.noTray {
		s.outside(out, d.tray.worth())
	}
	s.outside(out, d.path.worth())
	if d.taken {
		return
	}
	if r.Where != "" || d.paper {
		s.outside(out, d.inBoxes().worth())
		if d.empty = true; s.last == d {
			s.last = nil
		}
	}
}

// Told gives the slips as anybody can read them.
func (d *Day) Told() (list []Slip) {
	for _, s := range d.Slips {
		s.paid = nil
		list = append(list, s)
	}
	return list
}
