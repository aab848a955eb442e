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
	case unknownAtom, junkAtom:
		p.noteUnknown()
	case totalAtom:
		p.readTotal()
		return
	case dashAtom:
		if p.bullet() || p.dashAlone() {
			break
		}
		p.readEntry()
		return
	default:
		p.readEntry()
		return
	}
	p.i++
}

// noteUnknown counts a word outside count language and drops the bare number beside it.
func (p *parser) noteUnknown() {
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

// readEntry reads one entry, key first or quantity first.
func (p *parser) readEntry() {
	e := entry{atom: p.i, row: p.row, line: -1, start: p.atoms[p.i].start}
	if k, ok := p.keyAt(p.i); ok {
		p.readKeyed(&e, k)
	} else {
		p.readQuantity(&e.quantity, false)
		if k, ok := p.keyAfter(&e.quantity); ok {
			p.setKey(&e, k)
			p.i = k.next
		}
	}
	if e.start = p.atoms[e.atom].start; p.i > e.atom {
		e.end = p.atoms[p.i-1].end
	}
	p.keep(e)
}

// keep appends the entry. A bare number right behind an entry that has its count already is extra; loose
// notes behind a bundle that was named ("2 bundles of twenties + 40") belong to it.
func (p *parser) keep(e entry) {
	n := len(p.entries)
	if n > 0 && !e.keyed && p.entries[n-1].keyed && e.code == OK {
		prev := &p.entries[n-1]
		loose := prev.bundled && prev.nParts == 0 && !e.bundled && !e.isMoney && p.joins(e.atom)
		if loose {
			prev.parts, prev.nParts, prev.end = e.parts, e.nParts, e.end
			p.fresh = false
			return
		}
	}
	if n > 0 && !p.fresh {
		e.extra = e.code == OK && !e.keyed && (p.entries[n-1].keyed || p.entries[n-1].extra)
		e.behind = e.keyed && !p.entries[n-1].keyed && !p.entries[n-1].extra
	}
	p.fresh = false
	p.entries = append(p.entries, e)
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
