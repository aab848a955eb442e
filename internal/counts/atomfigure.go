package counts

import (
	"strings"
	"unicode/utf8"
)

// readFigure reads digits with what is glued to them: 20s, 150x, 1b, 2nd, 20€.
func (r *reader) readFigure(i int) int {
	r.splitRun(i)
	fig := readFigure(r.word(i), r.pointIsDecimal())
	if next, ok := r.currencyAt(i + 1); ok && !r.opensAmount(i+1) {
		return r.putMoney(i, i+1, i, next)
	}
	m := r.meaning(i + 1)
	switch {
	case i+1 < len(r.tokens) && r.tokens[i+1].kind == listToken && r.lineAt(fig.whole) >= 0:
		return r.put(atom{kind: placeAtom, line: r.lineAt(fig.whole)}, i, i+2)
	case m.class == pluralWord:
		return r.put(atom{kind: faceAtom, fig: fig}, i, i+2)
	case r.unitless(i + 1):
		return r.readGlued(fig, i)
	}
	return r.put(atom{kind: figureAtom, fig: fig}, i, i+1)
}

// opensAmount recognizes a currency sign that belongs to the figure behind it, not the one before: 150 €10.
func (r *reader) opensAmount(i int) bool {
	t := r.tokens[i]
	return t.kind == moneyToken && t.spaced && r.glued(i+1) && r.tokens[i+1].kind == figureToken
}

// splitRun parts a list typed without spaces when its last number belongs to what follows: in 20x150,10x200
// the 10 goes with the second x. The token then holds the last number only.
func (r *reader) splitRun(i int) {
	if !r.marksFace(i + 1) {
		return
	}
	t := r.tokens[i]
	p, ok := cutRun(r.word(i))
	if !ok || !p.list() {
		return
	}
	fig := readFigure(r.word(i), false)
	last := makeFigure(p.text[p.n-1], "")
	if r.isFace(fig.text) || (isPlausible(fig) && !r.isFace(last.text)) {
		return
	}
	begin := t.end - len(p.text[p.n-1])
	r.tokens[i].end = begin - utf8.RuneLen(p.sign[p.n-1])
	if rest := readFigure(r.word(i), false); isPlausible(rest) {
		p.n = 2
		p.text[0] = r.word(i)
	}
	for k := range p.n - 1 {
		r.tokens[i].end = r.tokens[i].start + len(p.text[k])
		r.put(atom{kind: figureAtom, fig: readFigure(p.text[k], false)}, i, i+1)
		r.put(atom{kind: commaAtom}, i, i+1)
		r.tokens[i].start = r.tokens[i].end + utf8.RuneLen(p.sign[k+1])
	}
	r.tokens[i] = token{figureToken, begin, t.end, true}
}

// marksFace recognizes a token that makes the figure before it a kind of note.
func (r *reader) marksFace(i int) bool {
	if i >= len(r.tokens) {
		return false
	}
	m := r.meaning(i)
	return r.tokens[i].kind == timesToken || r.tokens[i].kind == assignToken || m.class == timesWord ||
		m.class == pluralWord
}

// isPlausible recognizes a figure that a comma list is not tried for: no note box holds ten thousand notes (common
// practice, no source).
func isPlausible(f figure) bool { return f.code == OK && f.decimals == 0 && f.whole < 10_000 }

// unitless recognizes letters glued to the figure before them that are no unit.
func (r *reader) unitless(i int) bool {
	return r.glued(i) && r.tokens[i].kind == wordToken && r.meaning(i).class == unknownWord
}

// readGlued reads digits with letters behind them that are no unit: a position (2nd) or no number at all
// (12k, 1e3), which takes everything glued to it.
func (r *reader) readGlued(fig figure, i int) int {
	switch strings.ToLower(r.word(i + 1)) {
	case "st", "nd", "rd", "th":
		if line := r.lineAt(fig.whole); line >= 0 {
			return r.put(atom{kind: placeAtom, line: line}, i, i+2)
		}
		return r.put(atom{kind: unknownAtom}, i, i+2) // a box that is not asked for
	}
	next := i + 2
	for r.glued(next) && (r.tokens[next].kind == figureToken || r.tokens[next].kind == wordToken) {
		next++
	}
	return r.put(atom{kind: badAtom}, i, next)
}

// pointIsDecimal: only the machine's printed amounts are written with three decimals.
func (r *reader) pointIsDecimal() bool { return r.req.Values && r.req.MinorDigits >= maxDecimals }
