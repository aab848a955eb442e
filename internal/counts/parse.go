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

// dropExtra refuses an entry with a second number beside its count: in "20s 1 500" and "1 500 twenties" nobody
// knows which of the two was meant. An entry that is extra or behind is never the first.
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

// bullet tells the dash that opens a list item: it stands apart and a name follows, or every row has one.
func (p *parser) bullet() bool {
	if !p.opensRow(p.i) {
		return false
	}
	if _, ok := p.keyAt(p.i + 1); ok || p.kind(p.i+2) == faceAtom {
		return true
	}
	return p.bulletRows()
}

// opensRow tells a dash that comes first in its row with a blank behind it.
func (p *parser) opensRow(i int) bool {
	first := i == 0 || p.kind(i-1) == rowAtom
	return first && p.kind(i) == dashAtom && i+1 < len(p.atoms) && p.atoms[i+1].spaced
}

// bulletRows tells a list of several rows that all open with a dash.
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

// dashAlone tells a dash with no number behind it. Alone in the text it stands for none.
func (p *parser) dashAlone() bool {
	if len(p.atoms) == 1 {
		p.atoms[0].kind = zeroAtom
		return false
	}
	return !p.atNumber(p.i + 1)
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

// atNumber tells an atom that begins a quantity.
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

// joins tells whether the atom before i ties a number to the bundle before it.
func (p *parser) joins(i int) bool {
	k := p.kind(i - 1)
	return k == plusAtom || k == andAtom || !p.fresh
}

// readKeyed reads the quantity, or the quantities for several boxes, after a key.
func (p *parser) readKeyed(e *entry, k key) {
	p.setKey(e, k)
	p.i = k.next
	dash := p.skipLinks()
	switch {
	case p.atQuantity():
		p.readQuantity(&e.quantity, true)
		p.readMore(e)
	case dash:
		e.add(figure{})
	default:
		e.fail(NoCount)
	}
}

// readMore reads "20s 150 100" when exactly several boxes hold twenties.
func (p *parser) readMore(e *entry) {
	boxes := p.boxes(e)
	for e.nParts < boxes && e.nParts < partsMax && !e.bundled && e.code == OK && p.kind(p.i) == figureAtom {
		if _, ok := p.keyAt(p.i); ok || p.kind(p.i+1) == bundleAtom {
			return
		}
		e.add(p.atoms[p.i].fig)
		p.i++
	}
}

// boxes is how many lines the entry's kind of note has; 0 for a place.
func (p *parser) boxes(e *entry) int {
	n := 0
	for _, f := range p.faces {
		if e.line < 0 && f == e.face {
			n++
		}
	}
	return n
}

// skipLinks steps over what links a key to its count: a colon, an x, "of", or a dash with the same spacing on
// both sides. It reports whether there was a dash.
func (p *parser) skipLinks() (dash bool) {
	for p.i < len(p.atoms) {
		switch p.kind(p.i) {
		case assignAtom, timesAtom, ofAtom:
		case commaAtom, rowAtom:
			if !p.linkComma(p.i) {
				return dash
			}
		case dashAtom:
			if dash || p.atNumber(p.i+1) && (p.isLink(p.i-1) || !p.linkDash(p.i)) {
				return dash
			}
			dash = true
		default:
			return dash
		}
		p.i++
	}
	return dash
}

// linkComma tells a comma or line end between a key and a count that has no key of its own: "top, 40".
func (p *parser) linkComma(i int) bool {
	_, isKey := p.keyAt(i + 1)
	return p.atNumber(i+1) && !isKey && !p.keyFollows(i+2)
}

// linkDash tells a dash that is no minus: blanks on both sides or on neither, or nothing after it.
func (p *parser) linkDash(i int) bool {
	return i+1 >= len(p.atoms) || p.atoms[i].spaced == p.atoms[i+1].spaced || !p.atNumber(i+1)
}

// atQuantity tells whether a quantity begins here.
func (p *parser) atQuantity() bool {
	if p.kind(p.i) == dashAtom {
		return p.atNumber(p.i + 1)
	}
	_, isKey := p.keyAt(p.i)
	return p.atNumber(p.i) && !isKey
}

func (p *parser) setKey(e *entry, k key) {
	e.keyed, e.line, e.face = true, k.line, k.face
	if k.code != OK {
		e.code = k.code
	}
}

func (p *parser) fail(problem Problem) {
	if p.problem == nil {
		p.problem = &problem
	}
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
	if e := p.entries[n-1]; !e.keyed && (e.isMoney || (n == 1 && e.run > 0)) {
		p.setTotal(p.atoms[e.atom])
		p.entries = p.entries[:n-1]
	}
}

// setTotal keeps an amount as the total.
func (p *parser) setTotal(a atom) {
	p.total, p.totaled = a.fig, true
	if a.foreign {
		p.total.code = OtherCurrency
	}
	if a.fig.decimal && a.fig.code == OK && decimals(p.text[a.start:a.end]) > p.req.MinorDigits {
		p.total.code = Fraction
	}
	p.totalText = p.text[a.start:a.end]
}
