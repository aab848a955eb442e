package counts

// readNumberWords reads a number in words: seven, forty-five, two hundred and fifty, a thousand. "two
// hundreds" is the two-hundred note where there is one and it is counted or assigned to.
func (r *reader) readNumberWords(i int) int {
	if next, ok := r.twoHundreds(i); ok {
		return r.put(atom{kind: faceAtom, fig: wholeFigure(200)}, i, next)
	}
	var n wordSum
	next := i
	for {
		k := r.skipJoint(next, &n)
		m := r.meaning(k)
		if m.class != numberWord && m.class != scaleWord || !n.add(m.value) {
			break
		}
		next = k + 1
	}
	fig := wholeFigure(n.total + n.current)
	return r.put(atom{kind: numberAtom, fig: fig}, i, next)
}

// skipJoint steps over the joint inside a number: the hyphen of forty-five, the and of hundred and five.
func (r *reader) skipJoint(k int, n *wordSum) int {
	if !n.begun || k+1 >= len(r.tokens) || r.meaning(k+1).class != numberWord {
		return k
	}
	hyphen := r.tokens[k].kind == dashToken && r.glued(k) && r.glued(k+1)
	if hyphen || (r.meaning(k).class == andWord && n.afterScale) {
		return k + 1
	}
	return k
}

func (r *reader) twoHundreds(i int) (next int, ok bool) {
	if r.meaning(i).value != 2 || !r.isFace("200") || i+1 >= len(r.tokens) {
		return i, false
	}
	if m := r.meaning(i + 1); m.value != 100 || m.class != faceWord {
		return i, false
	}
	counted := len(r.atoms) > 0 && r.atoms[len(r.atoms)-1].isNumber()
	assigned := i+2 < len(r.tokens) && r.tokens[i+2].kind != wordToken && r.tokens[i+2].kind != commaToken
	return i + 2, counted || assigned || !r.isFace("100")
}

// isNumber recognizes an atom that is a count by itself.
func (a *atom) isNumber() bool {
	return a.kind == figureAtom || a.kind == numberAtom || a.kind == zeroAtom
}

// wordSum adds number words up by the rules of English.
type wordSum struct {
	total, current int64
	begun          bool
	afterScale     bool // hundred or thousand was the last word
}

// add takes the next word; ok is false if it begins another number.
func (n *wordSum) add(value int64) (ok bool) {
	switch {
	case value == 1000 && n.total == 0:
		n.total, n.current = max(n.current, 1)*1000, 0
	case value == 100 && n.current < 10 && (n.current > 0 || !n.afterScale):
		n.current = max(n.current, 1) * 100
	case value >= 100:
		return false
	case !n.begun || (n.afterScale && n.current%100 == 0):
		n.current += value
	case value < 10 && n.current%100 >= 20 && n.current%10 == 0:
		n.current += value
	default:
		return false
	}
	n.begun, n.afterScale = true, value >= 100
	return true
}
