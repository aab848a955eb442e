package counts

import "strings"

// currencyAt reports whether token i is a currency sign or word, and the token after it.
func (r *reader) currencyAt(i int) (next int, ok bool) {
	if i >= len(r.tokens) {
		return i, false
	}
	switch r.tokens[i].kind {
	case moneyToken:
		return i + 1, true
	case wordToken:
		_, ok = r.codesAt(i)
	}
	return i + 1, ok
}

// codesAt gives the currencies that the sign or word at token i may stand for. The machine's own code always
// counts as a currency word.
func (r *reader) codesAt(i int) (codes string, known bool) {
	word := r.word(i)
	if codes, known = currencyOf(word); known {
		return codes, true
	}
	if strings.EqualFold(word, r.req.Currency) {
		return r.req.Currency, true
	}
	return "", false
}

// readCurrency reads a currency sign or word with the figure behind it. Without one it stays a word by
// itself, which says nothing ("20s euro 150").
func (r *reader) readCurrency(i int) int {
	k := i + 1
	if k < len(r.tokens) && r.tokens[k].kind == dashToken && k+1 < len(r.tokens) &&
		r.tokens[k+1].kind == figureToken { // €-50
		return r.put(atom{kind: dashAtom}, k, k+1)
	}
	if k >= len(r.tokens) || r.tokens[k].kind != figureToken {
		return k
	}
	next := k + 1
	if _, ok := r.currencyAt(next); !ok && r.unitless(next) { // €3k
		return r.put(atom{kind: badAtom}, i, next+1)
	}
	if _, ok := r.currencyAt(next); ok && r.tokens[next].kind == wordToken {
		next++ // €20 euro
	}
	return r.putMoney(k, i, i, next)
}

// putMoney appends the amount in the digits of token digits, in the currency of token sign; together they are
// the tokens from i to before next. An amount that names notes ("€20 notes", "€20s") is a kind of note.
func (r *reader) putMoney(digits, sign, i, next int) int {
	codes, _ := r.codesAt(sign)
	a := atom{kind: moneyAtom, fig: r.amount(r.word(digits)), foreign: !isCurrency(codes, r.req.Currency)}
	switch m := r.meaning(next); {
	case m.class == pluralWord:
		a.kind, next = faceAtom, next+1
	case m.class == notesWord && r.isFace(a.fig.text) && !a.foreign:
		a.kind, next = faceAtom, next+1
	}
	return r.put(a, i, next)
}

// amount reads digits as an amount of money; one finer than the currency's smallest coin is a Fraction.
func (r *reader) amount(digits string) figure {
	fig := readFigure(digits, r.pointIsDecimal())
	if fig.tooFine(r.req.MinorDigits) {
		fig.code = Fraction
	}
	return fig
}
