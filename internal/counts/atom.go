package counts

import "slices"

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
	totalAtom
	badAtom     // a number that is none: 12k
	unknownAtom // a word outside count language
	junkAtom    // a sign outside count language
)

// atom is a piece of the text with its meaning for this request.
type atom struct {
	kind       atomKind
	spaced     bool // a blank before it
	start, end int
	line       int
	fig        figure
	foreign    bool // money in another currency
}

// reader turns tokens into atoms.
type reader struct {
	text   string
	req    *Request
	faces  []string // of req.Lines, canonical; empty for what is no face
	tokens []token
	atoms  []atom
}

// isFace reports whether a line of this face is asked for.
func (r *reader) isFace(text string) bool { return text != "" && slices.Contains(r.faces, text) }

func (r *reader) word(i int) string { return r.text[r.tokens[i].start:r.tokens[i].end] }

// meaning is that of the token, unknownWord if it is no word.
func (r *reader) meaning(i int) meaning {
	if i >= len(r.tokens) || r.tokens[i].kind != wordToken {
		return meaning{}
	}
	return meaningOf(r.word(i))
}

// glued recognizes a token that stands directly behind the one before.
func (r *reader) glued(i int) bool { return i < len(r.tokens) && !r.tokens[i].spaced }

// put appends an atom that covers the tokens from i to before next, and returns next.
func (r *reader) put(a atom, i, next int) int {
	a.start, a.end, a.spaced = r.tokens[i].start, r.tokens[next-1].end, r.tokens[i].spaced
	r.atoms = append(r.atoms, a)
	return next
}

func (r *reader) readAtoms() {
	for i := 0; i < len(r.tokens); {
		i = r.readAtom(i)
	}
}

var signAtoms = [...]atomKind{
	plusToken: plusAtom, timesToken: timesAtom, assignToken: assignAtom, dashToken: dashAtom,
	slashToken: slashAtom,
	commaToken: commaAtom, rowToken: rowAtom, listToken: commaAtom, partToken: partAtom,
	questionToken: commaAtom,
	junkToken:     junkAtom,
}

func (r *reader) readAtom(i int) (next int) {
	switch kind := r.tokens[i].kind; kind {
	case figureToken:
		return r.readFigure(i)
	case wordToken:
		return r.readWord(i)
	case moneyToken:
		return r.readCurrency(i)
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

// lineAt is the line with the box position n, -1 if there is none.
func (r *reader) lineAt(n int64) int {
	if n <= 0 {
		return -1
	}
	return slices.IndexFunc(r.req.Lines, func(l Line) bool { return int64(l.Position) == n })
}
