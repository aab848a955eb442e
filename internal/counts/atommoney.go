package counts

// currencyAt tells whether token i is a currency sign or word, and the token after it.
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
	if len(word) == 3 && equalASCII(word, r.req.Currency) {
		return r.req.Currency, true
	}
	return "", false
}

func equalASCII(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range len(a) {
		if a[i]|0x20 != b[i]|0x20 {
			return false
		}
	}
	return true
}

// readCurrency reads a currency sign or word with the figure behind it. Without one it stays a word by itself,
// which says nothing ("20s euro 150").
func (r *reader) readCurrency(i int) int {
	k := i + 1
	if k < len(r.tokens) && r.tokens[k].kind == dashToken && k+1 < len(r.tokens) &&
		r.tokens[k+1].kind == figureToken { // €-50
		return r.put(atom{kind: dashAtom}, k, k+1)
	}
	if k >= len(r.tokens) || r.tokens[k].kind != figureToken {
		return k
	}
	fig := readFigure(r.word(k), r.pointIsDecimal())
	next := k + 1
	if _, ok := r.currencyAt(next); !ok && r.unitless(next) { // €3k
		return r.put(atom{kind: badAtom}, i, next+1)
	}
	if _, ok := r.currencyAt(next); ok && r.tokens[next].kind == wordToken {
		next++ // €20 euro
	}
	return r.putMoney(fig, i, next, i)
}

// putMoney appends an amount of money that covers the tokens from i to before next; sign is the token of its
// currency. An amount that names notes ("€20 notes", "€20s") is a kind of note.
func (r *reader) putMoney(fig figure, i, next, sign int) int {
	codes, _ := r.codesAt(sign)
	a := atom{kind: moneyAtom, fig: fig, foreign: !isCurrency(codes, r.req.Currency)}
	if fig.decimal && fig.code == OK && decimals(r.figureText(i, next)) > r.req.MinorDigits {
		a.fig.code = Fraction
	}
	switch m := r.meaning(next); {
	case m.class == pluralWord:
		a.kind, next = faceAtom, next+1
	case m.class == notesWord && r.isFace(fig.value) && !a.foreign:
		a.kind, next = faceAtom, next+1
	}
	return r.put(a, i, next)
}

// figureText is the run of digits among the tokens from i to before next.
func (r *reader) figureText(i, next int) string {
	for ; i < next; i++ {
		if r.tokens[i].kind == figureToken {
			return r.word(i)
		}
	}
	return ""
}
