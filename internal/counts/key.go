package counts

// key is what a count is for: a box, a kind of note, or a kind of note in one box.
type key struct {
	line int // -1 none
	face string
	next int // the atom after it
	code Code
}

// keyAt reads the key that begins at atom i. Digits are a key only by what follows them; the package comment
// has the rules.
func (p *parser) keyAt(i int) (key, bool) {
	switch p.kind(i) {
	case placeAtom, faceAtom:
		return p.namedKey(i), true
	case figureAtom:
		return p.figureKey(i)
	case moneyAtom:
		return p.faceKey(i), p.moneyIsKey(i)
	case numberAtom:
		digits := p.kind(i+1) == figureAtom && p.plainCount(i+1)
		return p.faceKey(i), p.isFaceFigure(p.atoms[i].fig) && (p.isLink(i+1) || digits)
	}
	return key{}, false
}

// moneyIsKey recognizes an amount that names a kind of note: €20: 150, €20 150. Among printed figures an amount
// that is no face stands for itself unless a sign links it to a count.
func (p *parser) moneyIsKey(i int) bool {
	a := p.atoms[i]
	isFace := p.isFaceFigure(a.fig) && !a.foreign
	if p.isLink(i + 1) {
		return isFace || p.plainCount(i+2)
	}
	return p.plainCount(i+1) && (isFace || !p.req.Values)
}

// namedKey reads a box, a kind of note, or both in either order.
func (p *parser) namedKey(i int) key {
	k := key{line: -1, next: i}
	for range 2 {
		a := atom{}
		if k.next < len(p.atoms) {
			a = p.atoms[k.next]
		}
		switch {
		case a.kind == placeAtom && k.line < 0:
			k.line = a.line
		case a.kind == faceAtom && k.face == "":
			k.face = a.fig.text
			k.code = p.faceCode(a)
		default:
			return p.check(k)
		}
		k.next++
	}
	return p.check(k)
}

// check refuses a box together with a kind of note that it does not hold.
func (p *parser) check(k key) key {
	if k.code == OK && k.line >= 0 && k.face != "" && p.faces[k.line] != k.face {
		k.code = UnknownFace
	}
	return k
}

func (p *parser) faceKey(i int) key {
	a := p.atoms[i]
	return key{line: -1, face: a.fig.text, next: i + 1, code: p.faceCode(a)}
}

func (p *parser) faceCode(a atom) Code {
	switch {
	case a.foreign:
		return OtherCurrency
	case !p.isFaceFigure(a.fig):
		return UnknownFace
	}
	return OK
}

func (p *parser) isFaceFigure(f figure) bool { return f.code == OK && p.isFace(f.text) }

func (p *parser) isLink(i int) bool {
	return (p.kind(i) == assignAtom || p.kind(i) == timesAtom) && i+1 < len(p.atoms)
}

// plainCount recognizes a count without a currency that is not itself the key of what follows.
func (p *parser) plainCount(i int) bool {
	if !p.atNumber(i) || p.kind(i) == moneyAtom {
		return false
	}
	return !p.isLink(i + 1)
}

// figureKey reads digits as a key: 20x150, 20: 150, 2: 150 for the second box.
func (p *parser) figureKey(i int) (key, bool) {
	if !p.isLink(i + 1) {
		return key{}, false
	}
	left, right := p.atoms[i], p.atoms[i+2]
	isFace := p.isFaceFigure(left.fig)
	switch {
	case right.kind == faceAtom || right.kind == placeAtom && p.kind(i+1) == timesAtom:
		return key{}, false
	case isFace:
		return p.faceKey(i), !p.facesMoney(i + 2)
	case p.kind(i+1) == assignAtom && p.lineAt(left.fig.whole) >= 0:
		return key{line: p.lineAt(left.fig.whole), next: i + 1}, true
	case p.facesMoney(i+2) || (p.kind(i+1) == timesAtom && p.isFaceFigure(right.fig)):
		return key{}, false
	}
	k := p.faceKey(i)
	if right.kind == badAtom {
		k.code = Unreadable // 0x1f
	}
	return k, p.atNumber(i+2) || right.kind == dashAtom
}

// facesMoney recognizes an amount of money that names a kind of note, behind an x: 150 x €20.
func (p *parser) facesMoney(i int) bool {
	return p.kind(i) == moneyAtom && p.kind(i-1) == timesAtom && p.isFaceFigure(p.atoms[i].fig)
}

// keyAfter reads the key behind a quantity: 150 twenties, 150 x 20, €3000 in 20s, 40 in top.
func (p *parser) keyAfter(q *quantity) (key, bool) {
	i, link := p.i, commaAtom
	for k := p.kind(i); k == ofAtom || k == timesAtom || k == assignAtom; k = p.kind(i) {
		link = k
		i++
	}
	if i >= len(p.atoms) {
		return key{}, false
	}
	a := p.atoms[i]
	isFace := p.isFaceFigure(a.fig)
	switch {
	case a.kind == placeAtom || a.kind == faceAtom:
		return p.namedKey(i), true
	case a.kind == figureAtom && (link == ofAtom || (link == timesAtom && isFace)):
		return p.faceKey(i), true
	case a.kind == moneyAtom && p.isLink(i+1):
		return key{}, false
	case a.kind == moneyAtom && (isFace && link != commaAtom || !p.req.Values && !q.isMoney):
		return p.faceKey(i), true
	case a.kind == numberAtom && isFace && (link != commaAtom || !q.word || q.parts[0] == 1):
		return p.faceKey(i), true
	}
	return key{}, false
}
