package books

import (
	"fmt"
	"slices"
	"strings"

	"shopfloat/internal/cashmath"
)

// poster works out what a record of one kind does to the running state. It
// changes m, and gives the movements, which Post then books.
type poster func(m *Machine, p *Period, e *Entry) ([]Move, error)

var posters = map[Kind]poster{
	Opening: postOpening, Checks: postChecks, Printed: postPrinted, TopUp: postTopUp, Swap: postSwap,
	Moved: postMoved, Test: postTest, Found: postFound, Level: postLevel, Spot: postNothing,
	SpotPaid: postNothing, Count: postCount, Settlement: postSettlement, Close: postClose,
	Attachment: postNothing, Credit: postMoney, Debit: postMoney, Matched: postMoney,
	WriteOff: postWriteOff, Dated: postDated,
	Witness: postWitness, Incident: postIncident, News: postNews,
	VisitBegun: postVisit, VisitEnded: postVisitEnd,
}

// free kinds belong to no period, or to one that may be long past.
var free = []Kind{Opening, Attachment, Credit, Debit, Matched, WriteOff, Dated, Incident, News,
	VisitBegun, VisitEnded}

// Post takes the next entry into the running state and gives its movements.
// An error means the entry cannot be: m may be half changed then and is to be
// thrown away. Undo is not posted, see [Fold], nor is Correction, see
// [Machine.CorrectOn].
func (m *Machine) Post(e Entry) ([]Move, error) {
	if e.Seq != m.Seq+1 {
		return nil, fmt.Errorf("entry %d does not follow entry %d", e.Seq, m.Seq)
	}
	moves, err := m.post(&e)
	if err != nil {
		return nil, err
	}
	m.Seq = e.Seq
	if e.Kind != Dated { // nobody recorded it
		m.remember(briefOf(e))
	}
	return moves, nil
}

// post does what an entry does, wherever it stands in the ledger.
func (m *Machine) post(e *Entry) ([]Move, error) {
	post, ok := posters[e.Kind]
	if !ok {
		return nil, fmt.Errorf("entry of unknown kind %q", e.Kind)
	}
	if e.Rule < 0 || e.Rule > rules[e.Kind] {
		return nil, fmt.Errorf("entry of kind %q by unknown rule %d", e.Kind, e.Rule)
	}
	for _, f := range e.Figures {
		if f.Notes < 0 {
			return nil, &Refusal{Code: BelowNone, Field: f.Field, Face: f.Face}
		}
	}
	var p *Period
	if !slices.Contains(free, e.Kind) && (e.Period != 0 || e.Kind != Moved) {
		if p = m.Period(e.Period); p == nil {
			return nil, &Refusal{Code: DayUnknown, Period: e.Period}
		}
	}
	var counted *Period
	if e.Has(AfterCount) && p != nil {
		counted = p.clone()
	}
	moves, err := post(m, p, e)
	if err != nil {
		return nil, err
	}
	if counted != nil {
		moves = p.holdAsCounted(moves, counted)
	}
	if err := m.Balance.Apply(moves); err != nil {
		return nil, err
	}
	if out := m.Balance[Cash].Value().Neg(); out.GreaterThan(m.Taken) {
		m.Taken = out
	}
	m.forget(e.Period)
	return moves, nil
}

// add appends a movement unless it is of no notes.
func add(moves []Move, from, to Place, face cashmath.Face, notes int64) []Move {
	if notes == 0 {
		return moves
	}
	return append(moves, NewMove(from, to, face, notes))
}

func postNothing(*Machine, *Period, *Entry) ([]Move, error) { return nil, nil }

// postOpening begins a period. What the last one left in the boxes is part of
// what is loaded; only the difference moves.
func postOpening(m *Machine, _ *Period, e *Entry) ([]Move, error) {
	paper := slices.Contains(e.Marks, Paper) && m.Open != 0
	if m.Open != 0 && !paper {
		return nil, &Refusal{Code: DayOpen, Period: m.Open}
	}
	p := &Period{No: e.Seq, Status: Open, Opened: e.Happened, Date: e.Day, By: e.By, Settings: e.Settings,
		Paper: paper, Ticks: e.Ticks, TicksAt: e.Recorded}
	var moves []Move
	carried := m.Carried
	if paper {
		carried = nil // what is in the boxes now belongs to the period that is open
	}
	for _, f := range e.Figures {
		had := int64(0)
		same := func(c Figure) bool { return c.Box == f.Box && c.Face == f.Face }
		if i := slices.IndexFunc(carried, same); i >= 0 {
			had = carried[i].Notes
			carried = slices.Delete(slices.Clone(carried), i, i+1)
		}
		moves = add(moves, Cash, BoxPlace(f.Box), f.Face, f.Notes-had)
		p.Boxes = append(p.Boxes, BoxState{Position: f.Box, Face: f.Face, Loaded: f.Notes, Held: f.Notes})
	}
	for _, c := range carried {
		moves = add(moves, BoxPlace(c.Box), Cash, c.Face, c.Notes)
	}
	m.Periods = append(m.Periods, p)
	if paper {
		return moves, nil
	}
	m.takeOver(p.No)
	m.Open = p.No
	m.Loads = append(m.Loads, e.Figures)
	if over := len(m.Loads) - keepLoads; over > 0 {
		m.Loads = slices.Delete(m.Loads, 0, over)
	}
	return moves, nil
}

// takeOver makes everything left in the boxes part of the period that begins.
func (m *Machine) takeOver(no int64) {
	m.Carried = nil
	for _, old := range m.Periods {
		if old.No == no || old.Paper {
			continue
		}
		old.Taken, old.Ticks = true, nil // nothing of it is left to be put away
		for i := range old.Boxes {
			old.Boxes[i].Held = 0
		}
	}
}

// CheckedBy begins the tick that says how notes were checked.
const CheckedBy = "checked."

func postChecks(m *Machine, p *Period, e *Entry) ([]Move, error) {
	done := func(t string) bool { return slices.Contains(e.Ticks, t) }
	if slices.Contains(p.Ticks, "test") && done("test") && !p.Tried {
		p.Untold = true
	}
	p.Ticks = slices.DeleteFunc(slices.Clone(p.Ticks), done)
	p.TicksAt = e.Recorded
	for _, t := range e.Ticks {
		if how, ok := strings.CutPrefix(t, CheckedBy); ok {
			m.Checked = how
		}
	}
	if e.Has(AtOnce) && !p.Has(AtOnce) {
		p.Marks = append(p.Marks, AtOnce)
	}
	if e.Has(Different) { // what was the way until now is asked anew
		if slices.Contains(p.Ticks, "checked") {
			m.Checked = ""
		}
		if slices.Contains(p.Ticks, "test") {
			m.Trial = Trial{}
		}
	}
	return nil, nil
}

func postPrinted(_ *Machine, p *Period, e *Entry) ([]Move, error) {
	if len(e.Amounts) != 1 {
		return nil, &Refusal{Code: OneTotal}
	}
	v := e.Amounts[0].Value
	p.Total = &v
	return nil, nil
}

// boxFor finds the box a figure is about in an open period.
func boxFor(p *Period, f Figure) (*BoxState, error) {
	b := p.Box(f.Box)
	if b == nil || b.Face != f.Face {
		return nil, &Refusal{Code: NoBox, Period: p.No, Box: f.Box, Face: f.Face}
	}
	return b, nil
}

func postTopUp(_ *Machine, p *Period, e *Entry) ([]Move, error) {
	var moves []Move
	for _, f := range e.Figures {
		b, err := boxFor(p, f)
		if err != nil {
			return nil, err
		}
		moves = add(moves, Cash, BoxPlace(f.Box), f.Face, f.Notes)
		b.Added, b.Held = b.Added+f.Notes, b.Held+f.Notes
		p.Added.Plus(f.Face, f.Notes)
	}
	if e.Has(Uncounted) && !p.Has(Uncounted) {
		p.Marks = append(p.Marks, Uncounted)
	}
	return moves, nil
}

// postSwap takes a box out with what was left and puts another in. The ledger
// still holds what the machine has paid since loading; that stays until the
// printed figures explain it.
func postSwap(_ *Machine, p *Period, e *Entry) ([]Move, error) {
	var moves []Move
	for _, f := range e.Figures {
		b, err := boxFor(p, f)
		if err != nil {
			return nil, err
		}
		switch f.Field {
		case Left:
			moves = takeOut(moves, p, b, Cash, f.Notes)
		case Added:
			moves = add(moves, Cash, BoxPlace(f.Box), f.Face, f.Notes)
			b.Added, b.Held = b.Added+f.Notes, b.Held+f.Notes
			p.Added.Plus(f.Face, f.Notes)
		default:
			return nil, &Refusal{Code: WrongFigure, Kind: e.Kind, Field: f.Field}
		}
	}
	return moves, nil
}

// postTest books a test dispense. Notes the machine counted as paid out lie in
// the tray or in a box again, or were taken elsewhere, which is a removal.
func postTest(m *Machine, p *Period, e *Entry) ([]Move, error) {
	if slices.Contains(p.Ticks, "test") {
		m.Trial = Trial{Where: e.Where, Counted: e.Has(Counted)}
	}
	p.Tried, p.Untold = true, false
	var moves []Move
	var tried Notes
	for _, f := range e.Figures {
		b, err := boxFor(p, f)
		if err != nil {
			return nil, err
		}
		if e.Has(Counted) {
			p.Tests.Plus(f.Face, f.Notes)
			p.TestsLeft.Plus(f.Face, f.Notes)
		}
		switch e.Where {
		case Tray:
			moves = gather(moves, p, b, f.Notes)
			moves = add(moves, BoxPlace(b.Position), Tray, f.Face, f.Notes)
			b.Held -= f.Notes
			p.Tray.Plus(f.Face, f.Notes)
		case Boxes: // each kind back in its own box
		default:
			if e.Where.Inside() {
				return nil, &Refusal{Code: TestsElsewhere, To: e.Where}
			}
			moves = takeOut(moves, p, b, e.Where, f.Notes)
			tried.Plus(f.Face, f.Notes)
		}
	}
	if e.Where == Till && e.Rule >= tillOwes && len(tried) > 0 {
		m.owe(e, tried.Value())
	}
	return moves, nil
}

// gather makes sure a box holds enough notes by the ledger.
func gather(moves []Move, p *Period, b *BoxState, notes int64) []Move {
	lack := max(notes-b.Held, 0)
	p.Gone.Plus(b.Face, -lack)
	b.Held += lack
	return add(moves, Gone, BoxPlace(b.Position), b.Face, lack)
}

// postFound books notes found on the way of the notes before the count.
func postFound(_ *Machine, p *Period, e *Entry) ([]Move, error) {
	if e.Where != Tray && e.Where != Path {
		return nil, &Refusal{Code: FoundElsewhere, To: e.Where}
	}
	found := Finding{Seq: e.Seq, Happened: e.Happened, Where: e.Where}
	var moves []Move
	for _, f := range e.Figures {
		moves = add(moves, Gone, e.Where, f.Face, f.Notes)
		p.Gone.Plus(f.Face, -f.Notes)
		found.Notes.Plus(f.Face, f.Notes)
		if e.Where == Tray {
			p.Tray.Plus(f.Face, f.Notes)
		} else {
			p.Path.Plus(f.Face, f.Notes)
		}
	}
	p.Findings = append(p.Findings, found)
	return moves, nil
}

func postLevel(_ *Machine, p *Period, e *Entry) ([]Move, error) {
	r := Reading{Happened: e.Happened, Boxes: make([]int64, len(p.Boxes)), Held: make([]int64, len(p.Boxes))}
	for i, b := range p.Boxes {
		r.Held[i], r.Boxes[i] = b.Held, b.Held
	}
	for _, f := range e.Figures {
		i := slices.IndexFunc(p.Boxes, func(b BoxState) bool { return b.Position == f.Box && b.Face == f.Face })
		if i < 0 {
			return nil, &Refusal{Code: NoBox, Period: p.No, Box: f.Box, Face: f.Face}
		}
		r.Boxes[i] = f.Notes
	}
	p.Readings = append(p.Readings, r)
	return nil, nil
}
