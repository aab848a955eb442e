package counts

import "slices"

// key is what a count is for: a box, a kind of note, or a kind of note in one box.
type key struct {
	line int // -1 none
	face value
	next int // the atom after it
	code Code
}

// keyAt reads the key that begins at atom i. Digits are a key only by what follows them; the package comment
// has the rules.
func (p *parser) keyAt(i int) (key, bool) {
	switch p.kind(i) {
	case placeAtom, faceAtom:
		return p.readNamedKey(i), true
	case figureAtom:
		return p.readFigureKey(i)
	case moneyAtom:
		return p.faceKey(i), p.isMoneyKey(i)
	case numberAtom:
		digits := p.kind(i+1) == figureAtom && p.plainCount(i+1)
		return p.faceKey(i), p.isFaceFigure(p.atoms[i].fig) && (p.isLink(i+1) || digits)
	}
	return key{}, false
}

// isMoneyKey recognizes an amount that names a kind of note: €20: 150, €20 150. Among printed figures an
// amount that is no face stands for itself unless a sign links it to a count.
func (p *parser) isMoneyKey(i int) bool {
	a := p.atoms[i]
	isFace := p.isFaceFigure(a.fig) && !a.foreign
	if p.isLink(i + 1) {
		return isFace || p.plainCount(i+2)
	}
	return p.plainCount(i+1) && (isFace || !p.req.Values && !p.isSum(i))
}

// isSum: the amount is too much for a kind of note, twenty times the highest (common practice, no source).
func (p *parser) isSum(i int) bool {
	return len(p.faces) > 0 && p.atoms[i].fig.value >= 20*slices.Max(p.faces)
}

// readNamedKey reads a box, a kind of note, or both in either order: top, twenties, 20s middle.
func (p *parser) readNamedKey(i int) key {
	k := key{line: -1, next: i}
	for range 2 {
		kind := p.kind(k.next)
		place, face := kind == placeAtom && k.line < 0, kind == faceAtom && k.face == 0
		if !place && !face {
			break
		}
		a := p.atoms[k.next]
		if place {
			k.line = a.line
		}
		if face {
			k.face, k.code = a.fig.value, p.faceCode(a)
		}
		k.next++
	}
	return p.check(k)
}

// check refuses a box together with a kind of note that it does not hold.
func (p *parser) check(k key) key {
	if k.code == OK && k.line >= 0 && k.face != 0 && p.faces[k.line] != k.face {
		k.code = UnknownFace
	}
	return k
}

func (p *parser) faceKey(i int) key {
	a := p.atoms[i]
	return key{line: -1, face: a.fig.value, next: i + 1, code: p.faceCode(a)}
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

func (p *parser) isFaceFigure(f figure) bool { return f.code == OK && p.isFace(f.value) }

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

// readFigureKey reads digits as a key: 20x150, 20: 150, 2: 150 for the second box.
func (p *parser) readFigureKey(i int) (key, bool) {
	if !p.isLink(i + 1) {
		return key{}, false
	}
	left, right := p.atoms[i], p.atoms[i+2]
	times := p.kind(i+1) == timesAtom
	if right.kind == faceAtom || right.kind == placeAtom && times {
		return key{}, false
	}
	if p.isFaceFigure(left.fig) {
		return p.faceKey(i), !p.facesMoney(i + 2)
	}
	if line := p.lineAt(left.fig.value); line >= 0 && !times {
		return key{line: line, next: i + 1}, true
	}
	if p.facesMoney(i+2) || times && p.isFaceFigure(right.fig) {
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

// readKeyBehind reads the key behind a quantity: 150 twenties, 150 x 20, €3000 in 20s, 40 in top. Digits
// need a link between; an amount or a number in words needs one where it could be a count itself.
func (p *parser) readKeyBehind(q *quantity) (key, bool) {
	link, i := p.links(p.i)
	if i >= len(p.atoms) {
		return key{}, false
	}
	linked, isFace := i > p.i, p.isFaceFigure(p.atoms[i].fig)
	switch p.kind(i) {
	case placeAtom, faceAtom:
		return p.readNamedKey(i), true
	case figureAtom:
		return p.faceKey(i), link == ofAtom || link == timesAtom && isFace
	case moneyAtom:
		free := !p.req.Values && !q.isMoney && !p.isSum(i)
		return p.faceKey(i), !p.isLink(i+1) && (free || linked && isFace)
	case numberAtom:
		return p.faceKey(i), isFace && (linked || !q.word || q.parts[0] == 1)
	}
	return key{}, false
}

// links steps over what links a quantity to a key behind it; link is the last of it, commaAtom if there is
// none.
func (p *parser) links(i int) (link atomKind, next int) {
	link = commaAtom
	for ; p.kind(i) == ofAtom || p.kind(i) == timesAtom || p.kind(i) == assignAtom; i++ {
		link = p.kind(i)
	}
	return link, i
}

// takeKeyed reads the quantity, or the quantities for several boxes, after a key.
func (p *parser) takeKeyed(e *entry, k key) {
	p.setKey(e, k)
	p.i = k.next
	dash := p.skipLinks()
	switch {
	case p.atQuantity():
		p.takeQuantity(&e.quantity, true)
		p.readBoxCounts(e)
	case dash:
		e.add(figure{})
	default:
		e.fail(NoCount)
	}
}

func (p *parser) setKey(e *entry, k key) {
	e.keyed, e.line, e.face = true, k.line, k.face
	if k.code != OK {
		e.code = k.code
	}
}

// readBoxCounts reads "20s 150 100" when exactly several boxes hold twenties.
func (p *parser) readBoxCounts(e *entry) {
	boxes := p.boxes(e)
	for e.nParts < boxes && !e.bundled && e.code == OK && p.kind(p.i) == figureAtom {
		if _, ok := p.keyAt(p.i); ok || p.kind(p.i+1) == bundleAtom {
			return
		}
		e.add(p.atoms[p.i].fig)
		p.i++
	}
}

// boxes is how many lines the entry's kind of note has; 0 for a place.
func (p *parser) boxes(e *entry) (n int) {
	if e.line < 0 {
		_, n = p.boxesOf(e.face)
	}
	return n
}

// skipLinks steps over what links a key to its count: a colon, an x, "of", or a dash with the same spacing on
// both sides. It reports whether there was a dash.
func (p *parser) skipLinks() (dash bool) {
	for ; ; p.i++ {
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
	}
}

// linkComma recognizes a comma or line end between a key and a count that has no key of its own: "top, 40".
func (p *parser) linkComma(i int) bool {
	_, isKey := p.keyAt(i + 1)
	return p.atNumber(i+1) && !isKey && !p.keyFollows(i+2)
}

// linkDash recognizes a dash before a number that is no minus: blanks on both sides of it or on neither.
func (p *parser) linkDash(i int) bool { return p.atoms[i].spaced == p.atoms[i+1].spaced }

// atQuantity reports whether a quantity begins here.
func (p *parser) atQuantity() bool {
	if p.kind(p.i) == dashAtom {
		return p.atNumber(p.i + 1)
	}
	_, isKey := p.keyAt(p.i)
	return p.atNumber(p.i) && !isKey
}
