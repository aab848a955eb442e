package counts

// bullet recognizes the dash that opens a list item: it stands apart and a name follows, or every row has one.
func (p *parser) bullet() bool {
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

// dashAlone recognizes a dash with no number behind it. Alone in the text it stands for none.
func (p *parser) dashAlone() bool {
	if len(p.atoms) == 1 {
		p.atoms[0].kind = zeroAtom
		return false
	}
	return !p.atNumber(p.i + 1)
}
