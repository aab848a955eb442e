package counts

import (
	"strconv"
	"strings"
)

// readQuantity reads a quantity at the current atom: a number, a sum, bundles with or without loose notes, an
// amount of money, or something that is refused with a code. keyed tells that its key came before. It always
// moves on.
func (p *parser) readQuantity(q *quantity, keyed bool) {
	first := p.i
	p.readTerm(q)
	for p.i < len(p.atoms) && p.readTail(q, keyed) {
	}
	if p.i != first+1 {
		return
	}
	switch a := p.atoms[first]; a.kind {
	case figureAtom:
		q.run = first + 1
	case numberAtom:
		q.word = true
	}
}

// readTerm reads one number with its unit.
func (p *parser) readTerm(q *quantity) {
	a := p.atoms[p.i]
	p.i++
	switch a.kind {
	case moneyAtom:
		p.setMoney(q, a)
	case dashAtom:
		q.fail(Negative)
		p.skipNumber()
	case partAtom:
		q.fail(Fraction)
		p.skipNumber()
	case bundleAtom:
		q.addBundles(1)
	case figureAtom, numberAtom, zeroAtom:
		p.readNumber(q, a)
	default:
		q.fail(Unreadable)
	}
}

// skipNumber steps over the number that a minus or a half makes useless.
func (p *parser) skipNumber() {
	if p.atNumber(p.i) {
		p.i++
	}
	if p.kind(p.i) == bundleAtom {
		p.i++
	}
}

func (p *parser) setMoney(q *quantity, a atom) {
	q.money, q.isMoney, q.foreign = a.fig.amount(), true, a.foreign
	if a.foreign {
		q.fail(OtherCurrency)
	}
	if a.fig.code != OK {
		q.fail(a.fig.code)
	}
}

func (p *parser) readNumber(q *quantity, a atom) {
	switch {
	case p.kind(p.i) == bundleAtom:
		p.i++
		n, code := notesOfFigure(a.fig)
		if code != OK {
			q.fail(code)
		}
		q.addBundles(n)
	case p.req.Values && a.fig.decimals > 0 && a.fig.code == OK:
		a.fig = p.amount(p.text[a.start:a.end])
		p.setMoney(q, a)
	default:
		q.add(a.fig)
	}
}

func (q *quantity) addBundles(n int64) {
	q.bundled = true
	if q.bundles += n; q.bundles > MaxNotes {
		q.fail(TooBig)
	}
}

// readTail reads what may follow a term inside one quantity; ok is false at its end.
func (p *parser) readTail(q *quantity, keyed bool) (ok bool) {
	next := p.i + 1
	switch p.kind(p.i) {
	case plusAtom:
		ok = p.addend(next, keyed)
	case andAtom:
		ok = q.bundled && p.addend(next, keyed)
	case partAtom:
		q.fail(Fraction)
		p.i++
		return true
	case slashAtom:
		return p.readSlash(q)
	case dashAtom:
		if p.linkDash(p.i) && p.atNumber(next) && p.kind(next) != moneyAtom {
			p.i++
			p.skipNumber()
			q.fail(Negative)
			return true
		}
	case figureAtom, numberAtom:
		next = p.i
		if p.kind(next) == numberAtom && p.isFaceFigure(p.atoms[next].fig) {
			return false
		}
		ok = q.bundled && q.nParts == 0 && p.addend(next, keyed) && p.kind(next+1) != bundleAtom
	}
	if ok {
		p.i = next
		p.readTerm(q)
	}
	return ok
}

// addend recognizes a number that adds to the one before instead of beginning an entry of its own.
func (p *parser) addend(i int, keyed bool) bool {
	switch p.kind(i) {
	case figureAtom, numberAtom, bundleAtom, badAtom:
		_, isKey := p.keyAt(i)
		return !isKey && !(keyed && p.keyFollows(i+1))
	}
	return false
}

// keyFollows recognizes a key behind a number that has no count behind it in turn: the 40 of "40 tens" is for
// tens, the 40 of "40 10s 200" is not.
func (p *parser) keyFollows(i int) bool {
	switch k := p.kind(i); {
	case k == ofAtom || k == timesAtom:
		return true
	case k != faceAtom && k != placeAtom:
		return false
	}
	next := p.namedKey(i).next
	return !p.atNumber(next) && !p.isLink(next)
}

// readSlash recognizes a fraction (1/2, glued and small) from a list (150/200/40).
func (p *parser) readSlash(q *quantity) bool {
	left, right := p.i-1, p.i+1
	if p.kind(left) != figureAtom || p.kind(right) != figureAtom || p.kind(right+1) == slashAtom ||
		(left > 0 && p.kind(left-1) == slashAtom) || p.atoms[right].spaced {
		return false
	}
	const largestDenominator = 10
	if d := p.atoms[right].fig.digits(); p.atoms[left].fig.digits() >= d || d > largestDenominator {
		return false
	}
	q.fail(Fraction)
	p.i += 2
	return true
}

// digits are those of the figure without its sign: 15 for 1.5.
func (f figure) digits() int64 {
	n, err := strconv.ParseInt(strings.Replace(f.text, ".", "", 1), 10, 64)
	if err != nil {
		return 0 // no text: zero
	}
	return n
}
