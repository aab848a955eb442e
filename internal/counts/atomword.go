package counts

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

var wordAtoms = [...]atomKind{
	ofWord: ofAtom, andWord: andAtom, plusWord: plusAtom, minusWord: dashAtom, timesWord: timesAtom,
	zeroWord: zeroAtom, halfWord: partAtom, allWord: allAtom, totalWord: totalAtom, bundleWord: bundleAtom,
}

func (r *reader) readWord(i int) (next int) {
	if r.tokens[i].spaced || i == 0 || r.tokens[i-1].kind != figureToken {
		if line, next := r.nameAt(i); line >= 0 {
			return r.put(atom{kind: placeAtom, line: line}, i, next)
		}
	}
	if _, ok := r.currencyAt(i); ok {
		return r.readCurrency(i)
	}
	m := r.meaning(i)
	switch m.class {
	case unknownWord:
		return r.readUnknown(i)
	case numberWord, scaleWord:
		return r.readNumberWords(i)
	case articleWord:
		return r.readArticle(i)
	case faceWord:
		return r.put(atom{kind: faceAtom, fig: wholeFigure(m.value)}, i, i+1)
	case boxWord:
		return r.readBox(i)
	case ordinalWord:
		return r.readOrdinal(i, m.value)
	case notesWord, fillWord, pluralWord:
		return i + 1
	case bundleWord:
		if len(r.word(i)) == 1 && (i == 0 || r.tokens[i-1].kind != figureToken) { // a lone b
			return r.put(atom{kind: unknownAtom}, i, i+1)
		}
	}
	return r.put(atom{kind: wordAtoms[m.class]}, i, i+1)
}

// readUnknown tries the beginning of a box's name ("mid", "bot") before it gives the word up.
func (r *reader) readUnknown(i int) int {
	if line := r.lineByPrefix(r.word(i)); line >= 0 {
		return r.put(atom{kind: placeAtom, line: line}, i, i+1)
	}
	return r.put(atom{kind: unknownAtom}, i, i+1)
}

// nameAt finds the line whose name stands at token i, the longest if several do, and the token after it.
func (r *reader) nameAt(i int) (line, next int) {
	line, size := -1, 0
	rest := r.text[r.tokens[i].start:]
	for k := range r.req.Lines {
		name := r.req.Lines[k].Name
		if len(name) > size && len(name) <= len(rest) && strings.EqualFold(rest[:len(name)], name) {
			line, size = k, len(name)
		}
	}
	if line < 0 {
		return -1, i
	}
	end := r.tokens[i].start + size
	for next = i; next < len(r.tokens) && r.tokens[next].end <= end; next++ {
	}
	if next == i || (next < len(r.tokens) && r.tokens[next].start < end) {
		return -1, i // the name ends inside a word
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
	fig := readFigure(r.word(k), false)
	if line := r.lineAt(fig.whole); line >= 0 && fig.code == OK {
		return r.put(atom{kind: placeAtom, line: line}, i, k+1)
	}
	if r.meaning(k+1).class == pluralWord {
		return i + 1
	}
	return r.put(atom{kind: faceAtom, fig: fig}, i, k+1)
}

func (r *reader) readOrdinal(i int, position int64) int {
	if line := r.lineAt(position); line >= 0 {
		return r.put(atom{kind: placeAtom, line: line}, i, i+1)
	}
	return r.put(atom{kind: unknownAtom}, i, i+1)
}

// readArticle: "a bundle", "a twenty", "a tenner" say one; elsewhere the article says nothing.
func (r *reader) readArticle(i int) int {
	m := r.meaning(i + 1)
	one := m.class == bundleWord || m.class == faceWord || (m.class == numberWord && r.isFace(strconv.FormatInt(m.value, 10)))
	if !one {
		return i + 1
	}
	return r.put(atom{kind: numberAtom, fig: wholeFigure(1)}, i, i+1)
}
