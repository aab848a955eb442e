package counts

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"
)

var wordAtoms = [...]atomKind{
	ofWord: ofAtom, andWord: andAtom, plusWord: plusAtom, minusWord: dashAtom, timesWord: timesAtom,
	zeroWord: zeroAtom, halfWord: partAtom, allWord: allAtom, totalWord: totalAtom, bundleWord: bundleAtom,
	thenWord: commaAtom, eachWord: eachAtom, bothWord: bothAtom,
}

func (r *reader) takeWord(i int) (next int) {
	if !r.behindFigure(i) || r.tokens[i].spaced {
		if line, next := r.nameAt(i); line >= 0 {
			return r.put(atom{kind: placeAtom, line: line}, i, next)
		}
	}
	if _, ok := r.currencyAt(i); ok {
		return r.readMoney(i)
	}
	m := r.meaning(i)
	switch m.class {
	case unknownWord:
		if r.req.About != "" && slices.Contains(strings.Fields(r.req.About), strings.ToLower(r.word(i))) {
			return i + 1
		}
		return r.readNamePart(i)
	case numberWord, scaleWord:
		return r.readNumberWords(i)
	case articleWord:
		return r.readArticle(i)
	case faceWord:
		return r.put(atom{kind: faceAtom, fig: wholeFigure(int64(m.value))}, i, i+1)
	case boxWord:
		return r.readBox(i)
	case ordinalWord:
		return r.readOrdinal(i, wholeValue(int64(m.value)))
	case notesWord, fillWord, pluralWord:
		return i + 1
	}
	if m.class == bundleWord && len(r.word(i)) == 1 && !r.behindFigure(i) { // a lone b
		return r.put(atom{kind: unknownAtom}, i, i+1)
	}
	return r.put(atom{kind: wordAtoms[m.class]}, i, i+1)
}

// behindFigure recognizes a token with digits before it, glued or not.
func (r *reader) behindFigure(i int) bool { return i > 0 && r.tokens[i-1].kind == figureToken }

// readNamePart tries the beginning of a box's name ("mid", "bot") before it gives the word up.
func (r *reader) readNamePart(i int) int {
	word := r.word(i)
	if line := r.lineByPrefix(cmp.Or(sameBox[strings.ToLower(word)], word)); line >= 0 {
		return r.put(atom{kind: placeAtom, line: line}, i, i+1)
	}
	return r.put(atom{kind: unknownAtom}, i, i+1)
}

// sameBox are other words for the places of note boxes.
var sameBox = map[string]string{"upper": "top", "centre": "middle", "center": "middle", "lower": "bottom"}

// nameAt finds the line whose name stands at token i, the longest if several do, and the token after it.
func (r *reader) nameAt(i int) (line, next int) {
	size := 0
	rest := r.text[r.tokens[i].start:]
	for k := range r.req.Lines {
		name := r.req.Lines[k].Name
		if len(name) > size && len(name) <= len(rest) && strings.EqualFold(rest[:len(name)], name) {
			line, size = k, len(name)
		}
	}
	end := r.tokens[i].start + size
	for next = i; next < len(r.tokens) && r.tokens[next].end <= end; next++ {
	}
	if next == i || (next < len(r.tokens) && r.tokens[next].start < end) {
		return -1, i // no name, or one that ends inside a word
	}
	return line, next
}

// lineByPrefix finds the only line whose name begins with the word, of three letters or more.
func (r *reader) lineByPrefix(word string) int {
	line := -1
	if utf8.RuneCountInString(word) < 3 {
		return -1
	}
	for k := range r.req.Lines {
		name := r.req.Lines[k].Name
		if len(name) < len(word) || !strings.EqualFold(name[:len(word)], word) {
			continue
		}
		if line >= 0 {
			return -1
		}
		line = k
	}
	return line
}

// readBox reads "box 2", "#2": a position, else a kind of note ("the 20 box" the other way round). The word
// alone says nothing.
func (r *reader) readBox(i int) int {
	k := i + 1
	if k < len(r.tokens) && (r.tokens[k].kind == hashToken || r.tokens[k].kind == dashToken && r.glued(k)) {
		k++
	}
	if k >= len(r.tokens) || r.tokens[k].kind != figureToken {
		return i + 1
	}
	fig := parseFigure(r.word(k), false)
	if line := r.lineAt(fig.value); line >= 0 && fig.code == OK {
		return r.put(atom{kind: placeAtom, line: line}, i, k+1)
	}
	if r.meaning(k+1).class == pluralWord {
		return i + 1
	}
	return r.put(atom{kind: faceAtom, fig: fig}, i, k+1)
}

func (r *reader) readOrdinal(i int, position value) int {
	if line := r.lineAt(position); line >= 0 {
		return r.put(atom{kind: placeAtom, line: line}, i, i+1)
	}
	return r.put(atom{kind: unknownAtom}, i, i+1)
}

// readArticle: "a bundle", "a twenty", "a tenner" say one; elsewhere the article says nothing.
func (r *reader) readArticle(i int) int {
	m := r.meaning(i + 1)
	one := m.class == bundleWord || m.class == faceWord ||
		m.class == numberWord && r.isFace(wholeValue(int64(m.value)))
	if !one {
		return i + 1
	}
	return r.put(atom{kind: numberAtom, fig: wholeFigure(1)}, i, i+1)
}

// readNumberWords reads a number in words: seven, forty-five, two hundred and fifty, a thousand.
func (r *reader) readNumberWords(i int) int {
	if face, next, ok := r.readHundreds(i); ok {
		return r.put(atom{kind: faceAtom, fig: figure{value: face}}, i, next)
	}
	if n, ok := r.readSpoken(i); ok {
		return r.put(atom{kind: figureAtom, fig: wholeFigure(n)}, i, len(r.tokens))
	}
	var n wordSum
	next := i
	for {
		k := r.skipJoint(next, &n)
		m := r.meaning(k)
		if m.class != numberWord && m.class != scaleWord || !n.add(int64(m.value)) {
			break
		}
		next = k + 1
	}
	fig := wholeFigure(n.total + n.current)
	return r.put(atom{kind: numberAtom, fig: fig}, i, next)
}

// readSpoken reads "one fifty", said by itself for a box, as it is spoken: 150.
func (r *reader) readSpoken(i int) (n int64, ok bool) {
	hundreds, tens, units := r.meaning(i), r.meaning(i+1), r.meaning(i+2)
	if r.req.Few || len(r.atoms) > 0 && r.atoms[len(r.atoms)-1].kind != rowAtom ||
		hundreds.class != numberWord || hundreds.value > 9 || tens.class != numberWord || tens.value < 10 {
		return 0, false
	}
	n, end := int64(hundreds.value)*100+int64(tens.value), i+2
	if units.class == numberWord && units.value < 10 && tens.value >= 20 {
		n, end = n+int64(units.value), i+3
	}
	for ; end < len(r.tokens); end++ {
		if k := r.tokens[end].kind; k != commaToken && k != rowToken {
			return 0, false
		}
	}
	return n, true
}

// skipJoint steps over the joint inside a number: the hyphen of forty-five, the and of hundred and five.
func (r *reader) skipJoint(k int, n *wordSum) int {
	if !n.begun || r.meaning(k+1).class != numberWord {
		return k
	}
	hyphen := r.tokens[k].kind == dashToken && r.glued(k) && r.glued(k+1)
	if hyphen || (r.meaning(k).class == andWord && n.afterScale) {
		return k + 1
	}
	return k
}

// readHundreds reads "two hundreds", "ten thousands" as a note there is, if that is counted or assigned to.
func (r *reader) readHundreds(i int) (face value, next int, ok bool) {
	m, unit := r.meaning(i), r.meaning(i+1)
	face = wholeValue(int64(m.value) * int64(unit.value))
	if m.class != numberWord || unit.class != faceWord || unit.value < 100 || !r.isFace(face) {
		return 0, i, false
	}
	n := len(r.atoms) - 1
	counted := n >= 0 && (r.atoms[n].isNumber() || r.atoms[n].kind == bundleAtom || r.atoms[n].kind == ofAtom)
	assigned := i+2 < len(r.tokens) && r.tokens[i+2].kind != wordToken && r.tokens[i+2].kind != commaToken
	return face, i + 2, counted || assigned || !r.isFace(wholeValue(int64(unit.value)))
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
	if value >= 100 {
		return n.scale(value)
	}
	units := value < 10 && n.current%100 >= 20 && n.current%10 == 0
	if n.begun && !units && !(n.afterScale && n.current%100 == 0) {
		return false
	}
	n.current += value
	n.begun, n.afterScale = true, false
	return true
}

// scale takes a hundred or a thousand.
func (n *wordSum) scale(value int64) (ok bool) {
	thousand := value == 1000 && n.total == 0
	hundred := value == 100 && n.current < 10 && !n.afterScale
	if !thousand && !hundred {
		return false
	}
	n.current = max(n.current, 1) * value
	if thousand {
		n.total, n.current = n.current, 0
	}
	n.begun, n.afterScale = true, true
	return true
}
