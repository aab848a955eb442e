package books

import (
	"cmp"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/cashmath"
)

// Difference is the field of the amount a close books as its difference.
const Difference Field = "variance"

// postCount makes the boxes, the tray and what was set aside hold what was
// counted; what is missing from them has gone and waits for the printed figures.
func postCount(m *Machine, p *Period, e *Entry) ([]Move, error) {
	if p.Status == Closed {
		return nil, &Refusal{Code: DayClosed, Period: p.No}
	}
	if p.Taken {
		return nil, &Refusal{Code: LoadedAgain, Period: p.No}
	}
	moves, tray, path := []Move(nil), Notes{}, Notes{}
	for _, f := range e.Figures {
		switch f.Field {
		case Remaining:
			b, err := boxFor(p, f)
			if err != nil {
				return nil, err
			}
			moves = add(moves, BoxPlace(f.Box), Gone, f.Face, b.Held-f.Notes)
			p.Gone.Plus(f.Face, b.Held-f.Notes)
			b.Held, b.Remaining = f.Notes, f.Notes
		case Refused:
			tray.Plus(f.Face, f.Notes)
		case FoundAt:
			path.Plus(f.Face, f.Notes)
		default:
			return nil, &Refusal{Code: WrongFigure, Kind: e.Kind, Field: f.Field}
		}
	}
	if !e.Has(NoTray) {
		moves = p.level(moves, Tray, &p.Tray, tray)
	}
	moves = p.level(moves, Path, &p.Path, path)
	p.Status, p.CountedAt, p.CountedBy, p.CountSeq = Waiting, e.Happened, e.By, e.Seq
	p.Witness, p.Alone = 0, false
	p.Counts++
	p.Ticks, p.TicksAt = e.Ticks, e.Recorded
	p.Marks = slices.DeleteFunc(p.Marks, func(k Mark) bool { return k == NoTray })
	p.Marks = append(p.Marks, e.Marks...)
	first := m.Open == p.No
	if first {
		m.Open = 0
	}
	if first || e.Rule >= carriesLast && !p.Paper {
		m.carry(p)
	}
	return moves, nil
}

// level makes a place hold what was counted there.
func (p *Period) level(moves []Move, place Place, have *Notes, counted Notes) []Move {
	both := Notes{}
	both.Add(*have)
	both.Add(counted)
	for _, f := range both.Faces() {
		diff := (*have)[f] - counted[f]
		moves = add(moves, place, Gone, f, diff)
		p.Gone.Plus(f, diff)
		have.Plus(f, -diff)
	}
	return moves
}

// holdAsCounted makes boxes, tray and what was set aside hold again what was counted
// there before a record that was told late: its notes were counted, or had gone by then.
func (p *Period) holdAsCounted(moves []Move, counted *Period) []Move {
	for i := range p.Boxes {
		b, n := &p.Boxes[i], counted.Boxes[i].Held
		moves = add(moves, BoxPlace(b.Position), Gone, b.Face, b.Held-n)
		p.Gone.Plus(b.Face, b.Held-n)
		b.Held = n
	}
	moves = p.level(moves, Tray, &p.Tray, counted.Tray)
	return p.level(moves, Path, &p.Path, counted.Path)
}

// carry keeps what is left in the boxes for the next opening.
func (m *Machine) carry(p *Period) {
	m.Carried = nil
	for _, b := range p.Boxes {
		m.Carried = append(m.Carried, Figure{Field: Remaining, Box: b.Position, Face: b.Face, Notes: b.Held})
	}
}

// postSettlement takes in the printed figures of one settlement.
func postSettlement(m *Machine, p *Period, e *Entry) ([]Move, error) {
	if p.Status == Closed {
		return nil, &Refusal{Code: DayClosed, Period: p.No}
	}
	day := cmp.Or(e.Day, p.Date)
	s := Slip{Seq: e.Seq, Happened: e.Happened, Day: day, Amounts: e.Amounts,
		Due: DueFor(e.Record, p.TestsLeft), Tests: p.TestsLeft}
	p.TestsLeft = nil
	for _, f := range e.Figures {
		switch f.Field {
		case PaidOut, LastSeen:
			s.PaidOut.Plus(f.Face, f.Notes)
		case Cancelled:
			s.Back.Plus(f.Face, f.Notes)
		default:
			return nil, &Refusal{Code: WrongFigure, Kind: e.Kind, Field: f.Field}
		}
	}
	var net Notes
	net.Add(s.PaidOut)
	for _, less := range []Notes{s.Back, s.Tests} {
		for f, n := range less {
			net.Plus(f, -n)
		}
	}
	var moves []Move
	if len(e.Amounts) == 0 {
		for _, f := range net.Faces() {
			moves = add(moves, Gone, Customers, f, net[f])
			p.Gone.Plus(f, -net[f])
		}
	}
	p.Slips = append(p.Slips, s)
	part := e.Has(Unsettled) || p.Has(Unsettled)
	m.claim(Claim{Seq: e.Seq, Period: p.No, Day: day, Opened: p.Opened, Settled: e.Happened, On: e.DueOn,
		Value: s.Due, Back: s.Cancelled(), Tests: s.Tests.Value(), Part: part})
	for _, k := range e.Marks {
		if k == Unsettled && !p.Has(Unsettled) {
			p.Marks = append(p.Marks, k)
		}
	}
	return moves, nil
}

// postClose books what is still unexplained as the period's difference and,
// where the machine is emptied, brings its notes to the place named.
func postClose(m *Machine, p *Period, e *Entry) ([]Move, error) {
	switch p.Status {
	case Open:
		return nil, &Refusal{Code: NotCounted, Period: p.No}
	case Closed:
		return nil, &Refusal{Code: DayClosed, Period: p.No}
	}
	verdict, variance := p.balances(p.dayOf(p.printedTests()))
	if e.Rule < closesWhole {
		verdict, variance = p.balances(p.dayOf(p.Tests))
	}
	rest := OverShort
	if p.TotalOnly() {
		rest = Customers // which notes are missing is not known; the amount beside the entry is
	}
	var moves []Move
	p.ByFace = nil
	for _, f := range p.Gone.Faces() {
		moves = add(moves, Gone, rest, f, p.Gone[f])
		if rest == OverShort {
			p.ByFace.Plus(f, -p.Gone[f])
		}
	}
	p.Gone = nil
	out := e.Where
	if out == "" {
		out = Cash // the box for refused notes is emptied at every count
	}
	// A day entered late has no notes in the machine: the one open beside it took them over.
	if e.Where != "" || p.Paper && e.Rule >= closesWhole {
		moves = p.unload(moves, out)
		if !p.Taken && !p.Paper {
			m.Carried = nil
		}
	}
	if !p.Has(NoTray) {
		moves = empty(moves, Tray, out, p.Tray)
	}
	moves = empty(moves, Path, out, p.Path)
	p.Status, p.Ended, p.EndedBy = Closed, e.Happened, e.By
	if p.Incomplete(verdict) {
		verdict = NotComplete
	} else {
		e.Amounts = append(e.Amounts[:len(e.Amounts):len(e.Amounts)], Amount{Field: Difference, Value: variance})
	}
	p.Verdict, p.Variance, p.TicksAt = verdict, variance, e.Recorded
	p.Ticks = append(p.Ticks[:len(p.Ticks):len(p.Ticks)], e.Ticks...)
	return moves, nil
}

func empty(moves []Move, from, to Place, notes Notes) []Move {
	for _, f := range notes.Faces() {
		moves = add(moves, from, to, f, notes[f])
	}
	return moves
}

// unload brings what the boxes hold to another place.
func (p *Period) unload(moves []Move, to Place) []Move {
	for i := range p.Boxes {
		b := &p.Boxes[i]
		moves = add(moves, BoxPlace(b.Position), to, b.Face, b.Held)
		b.Held = 0
	}
	return moves
}

// NotComplete is the verdict of a close that says nothing about a difference,
// because a figure or a count it needs is missing.
const NotComplete cashmath.Verdict = "not-complete"

// Incomplete reports whether a verdict cannot be trusted: paid-out figures from
// before a restart of the counters are missing, or the box for refused notes
// was not counted and something seems to be missing.
func (p *Period) Incomplete(v cashmath.Verdict) bool {
	return p.Has(Unsettled) || p.Has(NoTray) && v != cashmath.Balanced
}

// Balances gives a counted period's verdict and difference in money.
func (p *Period) Balances() (cashmath.Verdict, decimal.Decimal) { return p.balances(p.Day()) }

func (p *Period) balances(d cashmath.Day) (cashmath.Verdict, decimal.Decimal) {
	r := cashmath.Reconcile(d)
	if !p.TotalOnly() {
		return r.Verdict, r.TotalVariance
	}
	paid, back := p.Paid()
	t := cashmath.ReconcileTotal(d, paid, back)
	return t.Verdict, t.Variance
}

func worth(moves []Move) decimal.Decimal {
	var sum decimal.Decimal
	for _, m := range moves {
		sum = sum.Add(cashmath.Value(m.Face, m.Notes))
	}
	return sum
}

// settle takes what was brought back off the oldest debts first.
func (m *Machine) settle(value decimal.Decimal) {
	for len(m.Debts) > 0 && value.IsPositive() {
		d := m.Debts[0]
		if value.LessThan(d.Value) {
			d.Value = d.Value.Sub(value)
			m.Debts = append([]Debt{d}, m.Debts[1:]...)
			return
		}
		value = value.Sub(d.Value)
		m.Debts = m.Debts[1:]
	}
}
