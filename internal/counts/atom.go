package counts

import (
	"slices"
	"strings"
	"unicode/utf8"
)

type atomKind uint8

const (
	figureAtom atomKind = iota // digits; fig
	numberAtom                 // number in words; fig
	zeroAtom                   // none, empty
	moneyAtom                  // amount with a currency; fig, code OtherCurrency
	faceAtom                   // a kind of note by name: twenties, 20s, €20 notes; fig
	placeAtom                  // a box by name or position; line
	bundleAtom                 // the word bundle
	partAtom                   // half, ½
	plusAtom
	timesAtom
	assignAtom
	dashAtom
	ofAtom
	andAtom
	slashAtom
	commaAtom
	rowAtom
	allAtom
	eachAtom // the count is for each of the lines
	bothAtom // or for each of two
	totalAtom
	badAtom     // a number that is none: 12k
	unknownAtom // a word outside count language
	junkAtom    // a sign outside count language
)

// atom is a piece of the text with its meaning for this request.
type atom struct {
	kind       atomKind
	spaced     bool // a blank before it
	foreign    bool // money in another currency
	start, end int
	line       int
	fig        figure
}

// reader turns tokens into atoms.
type reader struct {
	text   string
	req    *Request
	faces  []value // of req.Lines
	tokens []token
	atoms  []atom
	amends bool
}

// isFace reports whether a line of this face is asked for.
func (r *reader) isFace(v value) bool { return v > 0 && slices.Contains(r.faces, v) }

func (r *reader) word(i int) string { return r.text[r.tokens[i].start:r.tokens[i].end] }

// meaning is that of the token, unknownWord if it is no word.
func (r *reader) meaning(i int) meaning {
	if i >= len(r.tokens) {
		return meaning{}
	}
	return r.tokens[i].meaning
}

// glued recognizes a token that stands directly behind the one before.
func (r *reader) glued(i int) bool { return i < len(r.tokens) && !r.tokens[i].spaced }

// put appends an atom that covers the tokens from i to before next, and returns next.
func (r *reader) put(a atom, i, next int) int {
	a.start, a.end, a.spaced = r.tokens[i].start, r.tokens[next-1].end, r.tokens[i].spaced
	r.atoms = append(r.atoms, a)
	return next
}

func (r *reader) takeAtoms() {
	for i := 0; i < len(r.tokens); {
		i = r.takeAtom(i)
	}
}

var signAtoms = [...]atomKind{
	plusToken: plusAtom, timesToken: timesAtom, assignToken: assignAtom, dashToken: dashAtom,
	slashToken: slashAtom,
	commaToken: commaAtom, rowToken: rowAtom, listToken: commaAtom, partToken: partAtom,
	questionToken: commaAtom,
	junkToken:     junkAtom, atToken: ofAtom,
}

func (r *reader) takeAtom(i int) (next int) {
	switch kind := r.tokens[i].kind; kind {
	case figureToken:
		return r.readFigure(i)
	case wordToken:
		return r.takeWord(i)
	case moneyToken:
		return r.readMoney(i)
	case hashToken:
		return r.readBox(i)
	case questionToken:
		return r.readQuestion(i)
	default:
		return r.put(atom{kind: signAtoms[kind]}, i, i+1)
	}
}

// readQuestion: "150?" is an unsure count, a question mark among words is a question.
func (r *reader) readQuestion(i int) int {
	for k := range r.tokens {
		if r.tokens[k].kind == wordToken {
			return r.put(atom{kind: unknownAtom}, i, i+1)
		}
	}
	return r.put(atom{kind: commaAtom}, i, i+1)
}

// lineAt is the line with the box position, -1 if there is none.
func (r *reader) lineAt(position value) int {
	n, whole := position.whole()
	if !whole || n <= 0 {
		return -1
	}
	return slices.IndexFunc(r.req.Lines, func(l Line) bool { return int64(l.Position) == n })
}

// readFigure reads digits with what is glued to them: 20s, 150x, 1b, 2nd, 20€.
func (r *reader) readFigure(i int) int {
	if next := r.readTimeOfDay(i); next > i {
		return next
	}
	r.readTightList(i)
	fig := parseFigure(r.word(i), r.pointIsDecimal())
	if next, ok := r.currencyAt(i + 1); ok && !r.opensAmount(i+1) {
		return r.putMoney(i, i+1, i, next)
	}
	if line := r.lineAt(fig.value); line >= 0 && i+1 < len(r.tokens) && r.tokens[i+1].kind == listToken {
		return r.put(atom{kind: placeAtom, line: line}, i, i+2)
	}
	if r.meaning(i+1).class == pluralWord {
		return r.put(atom{kind: faceAtom, fig: fig}, i, i+2)
	}
	if r.meaning(i+1).class == boxWord && r.countsBoxes(i+1) {
		return r.put(atom{kind: unknownAtom}, i, i+2)
	}
	if r.unitless(i + 1) {
		return r.readGlued(fig, i)
	}
	return r.put(atom{kind: figureAtom, fig: fig}, i, i+1)
}

// readTimeOfDay reads hours and minutes behind a word that goes with them: at 10:15 is no 15 tens.
func (r *reader) readTimeOfDay(i int) (next int) {
	if i == 0 || !r.glued(i+1) || !r.glued(i+2) || r.tokens[i+1].kind != assignToken {
		return i
	}
	hour, minute := r.word(i), r.word(i+2)
	if !slices.Contains(timely, strings.ToLower(r.word(i-1))) ||
		len(hour) > 2 || len(hour) == 2 && hour > "24" || len(minute) != 2 || minute > "59" {
		return i
	}
	return r.put(atom{kind: badAtom}, i, i+3)
}

// timely are the words behind which hours and minutes are a time of day.
var timely = []string{"at", "since", "around", "about", "before", "after", "until", "till", "by", "from"}

// opensAmount recognizes a currency sign that belongs to the figure behind it, not the one before: 150 €10.
func (r *reader) opensAmount(i int) bool {
	t := r.tokens[i]
	return t.kind == moneyToken && t.spaced && r.glued(i+1) && r.tokens[i+1].kind == figureToken
}

// readTightList parts a list typed without spaces when its last number belongs to what follows: in
// 20x150,10x200 the 10 goes with the second x. The token then holds the last number only.
func (r *reader) readTightList(i int) {
	if !r.marksFace(i + 1) {
		return
	}
	t := r.tokens[i]
	p, ok := cutRun(r.word(i))
	if !ok || !p.list() {
		return
	}
	fig := parseFigure(r.word(i), false)
	last := makeFigure(p.text[p.n-1], "")
	if r.isFace(fig.value) || (isPlausible(fig) && !r.isFace(last.value)) {
		return
	}
	begin := t.end - len(p.text[p.n-1])
	r.tokens[i].end = begin - utf8.RuneLen(p.sign[p.n-1])
	if rest := parseFigure(r.word(i), false); isPlausible(rest) {
		p.n = 2
		p.text[0] = r.word(i)
	}
	for k := range p.n - 1 {
		r.tokens[i].end = r.tokens[i].start + len(p.text[k])
		r.put(atom{kind: figureAtom, fig: parseFigure(p.text[k], false)}, i, i+1)
		r.put(atom{kind: commaAtom}, i, i+1)
		r.tokens[i].start = r.tokens[i].end + utf8.RuneLen(p.sign[k+1])
	}
	r.tokens[i] = token{kind: figureToken, spaced: true, start: begin, end: t.end}
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

// isPlausible recognizes a figure that a comma list is not tried for: no note box holds ten thousand notes
// (common practice, no source).
func isPlausible(f figure) bool {
	return f.code == OK && f.decimals == 0 && f.value < wholeValue(10_000)
}

// unitless recognizes letters glued to the figure before them that are no unit.
func (r *reader) unitless(i int) bool {
	return r.glued(i) && r.tokens[i].kind == wordToken && r.meaning(i).class == unknownWord
}

// countsBoxes recognizes the word for boxes behind a figure, unless a figure of its own
// follows: that many boxes are no notes.
func (r *reader) countsBoxes(i int) bool {
	return strings.EqualFold(r.word(i), "boxes") && (i+1 >= len(r.tokens) || r.tokens[i+1].kind != figureToken)
}

// readThousand reads "2k in 20s": thousands of money, which a kind of note follows.
func (r *reader) readThousand(fig figure, i int) (next int, ok bool) {
	if !strings.EqualFold(r.word(i+1), "k") || fig.code != OK || fig.value > wholeValue(MaxNotes)/thousandths ||
		r.meaning(i+2).class != ofWord {
		return i, false
	}
	fig.value, fig.decimals = fig.value*thousandths, 0
	return r.put(atom{kind: moneyAtom, fig: fig}, i, i+2), true
}

// readGlued reads digits with letters behind them that are no unit: a position (2nd) or no number at all
// (12k, 1e3), which takes everything glued to it.
func (r *reader) readGlued(fig figure, i int) int {
	if next, ok := r.readThousand(fig, i); ok {
		return next
	}
	switch strings.ToLower(r.word(i + 1)) {
	case "st", "nd", "rd", "th":
		if line := r.lineAt(fig.value); line >= 0 {
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

// readMoney reads a currency sign or word with the figure behind it. Without one it stays a word by
// itself, which says nothing ("20s euro 150").
func (r *reader) readMoney(i int) int {
	k := i + 1
	if n := len(r.atoms); n > 0 && r.atoms[n-1].kind == numberAtom && r.tokens[i].kind == wordToken {
		codes, _ := r.codesAt(i) // ten euros
		r.atoms[n-1].kind, r.atoms[n-1].foreign = moneyAtom, !isCurrency(codes, r.req.Currency)
		r.atoms[n-1].end = r.tokens[i].end
		return k
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
	class := r.meaning(next).class
	if class == pluralWord || class == notesWord && r.isFace(a.fig.value) && !a.foreign {
		a.kind, next = faceAtom, next+1
	}
	return r.put(a, i, next)
}

// amount reads digits as an amount of money; one finer than the currency's smallest coin is a Fraction.
func (r *reader) amount(digits string) figure {
	fig := parseFigure(digits, r.pointIsDecimal())
	if fig.tooFine(r.req.MinorDigits) {
		fig.code = Fraction
	}
	return fig
}
