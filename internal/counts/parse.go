package counts

// parser turns atoms into entries.
type parser struct {
	*reader
	i         int
	row       int
	fresh     bool // a separator came before the next entry
	entries   []entry
	unknown   int // words and signs outside count language
	words     int // of those, the words
	placed    int // of those, the ones that stand where a box or a kind of note would
	all       bool
	each      bool // the count is for each of the lines
	both      bool // or for each of two
	total     figure
	totaled   bool
	totalText string
	problem   *Problem
}

func (p *parser) kind(i int) atomKind {
	if i >= len(p.atoms) {
		return rowAtom // the end parts entries as a line end does
	}
	return p.atoms[i].kind
}

func (p *parser) parse() {
	p.fresh = true
	p.entries = make([]entry, 0, min(len(p.atoms), len(p.req.Lines)))
	for p.i < len(p.atoms) {
		p.step()
	}
	p.dropExtra()
}

// dropExtra refuses an entry with a second number beside its count: in "20s 1 500" and "1 500 twenties"
// nobody knows which of the two was meant. An entry that is extra or behind is never the first.
func (p *parser) dropExtra() {
	kept := p.entries[:0]
	for _, e := range p.entries {
		n := len(kept)
		switch {
		case e.extra:
			kept[n-1].fail(TooMany)
			kept[n-1].end = e.end
		case e.behind:
			e.fail(TooMany)
			e.start = kept[n-1].start
			kept[n-1] = e
		default:
			kept = append(kept, e)
		}
	}
	p.entries = kept
}

// step reads what begins at the current atom; it always moves on.
func (p *parser) step() {
	switch p.kind(p.i) {
	case rowAtom:
		p.row++
		p.fresh = true
	case commaAtom, slashAtom, andAtom, plusAtom:
		p.fresh = true
	case timesAtom, assignAtom, ofAtom:
	case allAtom:
		p.all = true
	case eachAtom:
		p.each = true
	case bothAtom:
		p.both = true
	case unknownAtom, junkAtom:
		p.readUnknown()
	case totalAtom:
		p.readTotal()
		return
	case dashAtom:
		if p.readBullet() || p.readDash() {
			break
		}
		p.takeEntry()
		return
	default:
		p.takeEntry()
		return
	}
	p.i++
}

// readUnknown counts a word outside count language and drops the bare number beside it.
func (p *parser) readUnknown() {
	a := p.atoms[p.i]
	p.unknown++
	if a.kind == unknownAtom {
		p.words++
	}
	p.fail(Problem{Code: Unreadable, Near: near(p.text[a.start:a.end]), Line: -1})
	if n := len(p.entries); n > 0 && !p.entries[n-1].keyed && !p.fresh {
		p.entries[n-1].extra = false // the word is what it counts
		p.placed++
	} else if p.atNumber(p.i + 1) {
		p.placed++
	}
	p.fresh = true
}

// atNumber recognizes an atom that begins a quantity.
func (p *parser) atNumber(i int) bool {
	switch p.kind(i) {
	case figureAtom, numberAtom, zeroAtom, moneyAtom, bundleAtom, partAtom, badAtom:
		return true
	}
	return false
}

// takeEntry reads one entry, key first or quantity first.
func (p *parser) takeEntry() {
	e := entry{atom: p.i, row: p.row, line: -1, start: p.atoms[p.i].start}
	if k, ok := p.keyAt(p.i); ok {
		p.takeKeyed(&e, k)
	} else {
		p.takeQuantity(&e.quantity, false)
		if k, ok := p.readKeyBehind(&e.quantity); ok {
			p.setKey(&e, k)
			p.i = k.next
		}
	}
	e.end = p.atoms[p.i-1].end
	p.keep(e)
}

// keep appends the entry, or adds it to the one before it. A bare number right behind an entry that has its
// count already is extra.
func (p *parser) keep(e entry) {
	fresh := p.fresh
	if n := len(p.entries); n > 0 {
		prev := &p.entries[n-1]
		if p.readLooseBehind(prev, &e) {
			return
		}
		e.extra = !fresh && e.code == OK && !e.keyed && (prev.keyed || prev.extra)
		e.behind = !fresh && e.keyed && !prev.keyed && !prev.extra
	}
	p.fresh = false
	p.entries = append(p.entries, e)
}

// readLooseBehind adds loose notes to the bundles before them that were named: 2 bundles of twenties + 40.
func (p *parser) readLooseBehind(prev, e *entry) bool {
	bundles := prev.keyed && prev.bundled && prev.nParts == 0
	loose := e.code == OK && !e.keyed && !e.bundled && !e.isMoney
	if !bundles || !loose || !p.joins(e.atom) {
		return false
	}
	prev.parts, prev.nParts, prev.end = e.parts, e.nParts, e.end
	p.fresh = false
	return true
}

// joins reports whether the atom before i ties a number to the bundle before it.
func (p *parser) joins(i int) bool {
	k := p.kind(i - 1)
	return k == plusAtom || k == andAtom || !p.fresh
}

func (p *parser) fail(problem Problem) {
	if p.problem == nil {
		p.problem = &problem
	}
}

// readBullet recognizes the dash that opens a list item: it stands apart and a name follows, or every row has
// one.
func (p *parser) readBullet() bool {
	if !p.opensRow(p.i) {
		return false
	}
	if _, ok := p.keyAt(p.i + 1); ok || p.kind(p.i+2) == faceAtom {
		return true
	}
	return p.bulletRows()
}

// opensRow recognizes a dash that comes first in its row with a blank behind it.
func (p *parser) opensRow(i int) bool {
	first := i == 0 || p.kind(i-1) == rowAtom
	return first && p.kind(i) == dashAtom && i+1 < len(p.atoms) && p.atoms[i+1].spaced
}

// bulletRows recognizes a list of several rows that all open with a dash.
func (p *parser) bulletRows() bool {
	rows := 0
	for i := range p.atoms {
		if p.kind(i) == rowAtom || (i > 0 && p.kind(i-1) != rowAtom) {
			continue
		}
		if !p.opensRow(i) {
			return false
		}
		rows++
	}
	return rows > 1
}

// readDash recognizes a dash with no number behind it. Alone in the text it stands for none.
func (p *parser) readDash() bool {
	if len(p.atoms) == 1 {
		p.atoms[0].kind = zeroAtom
		return false
	}
	return !p.atNumber(p.i + 1)
}

// readTotal reads the amount after or before the word total.
func (p *parser) readTotal() {
	p.i++
	for p.kind(p.i) == assignAtom || p.kind(p.i) == ofAtom {
		p.i++
	}
	if k := p.kind(p.i); k == figureAtom || k == moneyAtom || k == numberAtom {
		p.setTotal(p.atoms[p.i])
		p.i++
		return
	}
	n := len(p.entries)
	if n == 0 {
		return
	}
	e := p.entries[n-1]
	switch {
	case !e.keyed && (e.isMoney || (n == 1 && e.run > 0)):
		p.setTotal(p.atoms[e.atom])
		p.entries = p.entries[:n-1]
	case !e.keyed && e.word && n == 1: // "only one total" gives none
		p.fail(Problem{Code: TotalOnly, Near: near(p.text), Line: -1})
		p.entries = p.entries[:0]
	}
}

// setTotal keeps an amount as the total.
func (p *parser) setTotal(a atom) {
	p.total, p.totaled = a.fig, true
	if a.kind == figureAtom {
		p.total = p.amount(p.text[a.start:a.end])
	}
	if a.foreign {
		p.total.code = OtherCurrency
	}
	p.totalText = p.text[a.start:a.end]
}
