package counts

// partsMax bounds the numbers kept apart in one sum; more boxes of one face do not exist.
const partsMax = 8

// quantity is how many notes, or how much money, an entry gives.
type quantity struct {
	parts   [partsMax]int32 // loose numbers in the order typed
	nParts  int
	bundles int64
	money   value
	run     int // index+1 of the figure atom when the quantity is that figure alone
	bundled bool
	isMoney bool
	word    bool // a single number in words
	code    Code
}

// entry is a quantity with what it is for, if that was said.
type entry struct {
	quantity
	keyed      bool
	extra      bool // a bare number right behind an entry that has its count
	behind     bool // right behind a bare number
	start, end int  // in the text
	atom       int  // index of its first atom
	row        int
	line       int   // of a place, -1 none
	face       value // 0 none
}

// add adds a loose number.
func (q *quantity) add(f figure) {
	n, code := f.notes()
	if code == OK && q.nParts == partsMax {
		code = TooMany
	}
	if code != OK {
		q.fail(code)
		return
	}
	q.parts[q.nParts] = int32(n) // MaxNotes fits
	q.nParts++
}

// fail keeps the first fault.
func (q *quantity) fail(code Code) {
	if q.code == OK {
		q.code = code
	}
}

// isZero recognizes a quantity of no notes.
func (q *quantity) isZero() bool {
	return q.code == OK && !q.isMoney && !q.bundled && q.nParts == 1 && q.parts[0] == 0
}

// notes is the whole quantity with bundles of the given size, 0 unknown.
func (q *quantity) notes(bundle int64) (int64, Code) {
	if q.code != OK {
		return 0, q.code
	}
	if q.bundled && bundle <= 0 {
		return 0, NoBundle
	}
	var n int64
	for _, part := range q.parts[:q.nParts] {
		n += int64(part)
	}
	if q.bundles > 0 && bundle > (MaxNotes-min(n, MaxNotes))/q.bundles || n > MaxNotes {
		return 0, TooBig
	}
	return n + q.bundles*bundle, OK
}

// takeQuantity reads a quantity at the current atom: a number, a sum, bundles with or without loose notes, an
// amount of money, or something that is refused with a code. keyed tells that its key came before. It always
// moves on.
func (p *parser) takeQuantity(q *quantity, keyed bool) {
	first := p.i
	p.takeTerm(q)
	for p.takeTail(q, keyed) {
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

// takeTerm reads one number with its unit.
func (p *parser) takeTerm(q *quantity) {
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
		p.takeNumber(q, a)
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
	q.money, q.isMoney = a.fig.value, true
	if a.foreign {
		q.fail(OtherCurrency)
	}
	if a.fig.code != OK {
		q.fail(a.fig.code)
	}
}

// takeNumber reads the number of an atom that was stepped over.
func (p *parser) takeNumber(q *quantity, a atom) {
	if p.kind(p.i) == bundleAtom {
		p.readBundles(q, a.fig)
		return
	}
	if p.req.Values && a.fig.code == OK && a.fig.decimals > 0 {
		a.fig = p.amount(p.text[a.start:a.end])
		p.setMoney(q, a)
		return
	}
	q.add(a.fig)
}

// readBundles reads a number with the word bundle behind it: 2b, 3 packs.
func (p *parser) readBundles(q *quantity, number figure) {
	p.i++
	n, code := number.notes()
	if code != OK {
		q.fail(code)
	}
	q.addBundles(n)
}

func (q *quantity) addBundles(n int64) {
	q.bundled = true
	if q.bundles += n; q.bundles > MaxNotes {
		q.fail(TooBig)
	}
}

// takeTail reads what may follow a term inside one quantity; ok is false at its end.
func (p *parser) takeTail(q *quantity, keyed bool) (ok bool) {
	switch p.kind(p.i) {
	case plusAtom:
		return p.readSum(q, p.i+1, keyed)
	case andAtom:
		return q.bundled && p.readSum(q, p.i+1, keyed)
	case figureAtom, numberAtom:
		return p.readLoose(q, keyed)
	case dashAtom:
		return p.readDifference(q)
	case slashAtom:
		return p.readFraction(q)
	case partAtom:
		q.fail(Fraction)
		p.i++
		return true
	}
	return false
}

// readSum adds the term at atom i: 150+100, 1b+37, 2 bundles and 40.
func (p *parser) readSum(q *quantity, i int, keyed bool) bool {
	if !p.addend(i, keyed) {
		return false
	}
	p.i = i
	p.takeTerm(q)
	return true
}

// readLoose adds the loose notes right behind bundles: 2 bundles 40. A number that may be a kind of note
// ("2b twenty") begins an entry of its own.
func (p *parser) readLoose(q *quantity, keyed bool) bool {
	a := p.atoms[p.i]
	if a.kind == numberAtom && p.isFaceFigure(a.fig) || p.kind(p.i+1) == bundleAtom {
		return false
	}
	return q.bundled && q.nParts == 0 && p.readSum(q, p.i, keyed)
}

// readDifference refuses one number minus another: 150-20.
func (p *parser) readDifference(q *quantity) bool {
	if !p.atNumber(p.i+1) || p.kind(p.i+1) == moneyAtom || !p.linkDash(p.i) {
		return false
	}
	p.i++
	p.skipNumber()
	q.fail(Negative)
	return true
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
	switch p.kind(i) {
	case ofAtom, timesAtom:
		return true
	case faceAtom, placeAtom:
		next := p.readNamedKey(i).next
		return !p.atNumber(next) && !p.isLink(next)
	}
	return false
}

// readFraction recognizes a fraction (1/2, glued and small) from a list (150/200/40).
func (p *parser) readFraction(q *quantity) bool {
	left, right := p.i-1, p.i+1
	if p.kind(left) != figureAtom || p.kind(right) != figureAtom || p.kind(right+1) == slashAtom ||
		(left > 0 && p.kind(left-1) == slashAtom) || p.atoms[right].spaced {
		return false
	}
	const largestDenominator = 10
	n, d := p.atoms[left].fig.value.digits(), p.atoms[right].fig.value.digits()
	if n >= d || d > largestDenominator {
		return false
	}
	q.fail(Fraction)
	p.i += 2
	return true
}

// digits are those of the value without its sign: 15 for 1.5.
func (v value) digits() int64 {
	for range maxDecimals {
		if v%10 == 0 {
			v /= 10
		}
	}
	return int64(v)
}
