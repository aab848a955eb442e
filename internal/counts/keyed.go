package counts

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

func (p *parser) setKey(e *entry, k key) {
	e.keyed, e.line, e.face = true, k.line, k.face
	if k.code != OK {
		e.code = k.code
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

// linkComma recognizes a comma or line end between a key and a count that has no key of its own: "top, 40".
func (p *parser) linkComma(i int) bool {
	_, isKey := p.keyAt(i + 1)
	return p.atNumber(i+1) && !isKey && !p.keyFollows(i+2)
}

// linkDash recognizes a dash that is no minus: blanks on both sides or on neither, or nothing after it.
func (p *parser) linkDash(i int) bool {
	return i+1 >= len(p.atoms) || p.atoms[i].spaced == p.atoms[i+1].spaced || !p.atNumber(i+1)
}

// atQuantity reports whether a quantity begins here.
func (p *parser) atQuantity() bool {
	if p.kind(p.i) == dashAtom {
		return p.atNumber(p.i + 1)
	}
	_, isKey := p.keyAt(p.i)
	return p.atNumber(p.i) && !isKey
}
