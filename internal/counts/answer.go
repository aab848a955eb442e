package counts

import (
	"slices"
	"unicode"

	"github.com/shopspring/decimal"
)

// result decides which line each entry answers.
func (p *parser) result() Result {
	ans := answers{parser: p, got: make([]Item, len(p.req.Lines))}
	for i := range ans.got {
		ans.got[i].Line = open
	}
	res := Result{Amends: p.amends}
	if p.isProse() {
		res.Prose = p.words > 0
		p.entries = nil
	}
	ans.answer()
	res.Bare = len(p.entries) == 1 && !p.entries[0].keyed && !p.totaled
	ans.giveTotal(&res)
	res.Items = ans.items()
	p.checkSilent(&res)
	res.Problem = p.problem
	return res
}

// isProse weighs the words outside count language against the counts with a key. A word where a kind of note
// would stand (a typing slip) weighs less than one anywhere else. Bare numbers among words count for nothing.
func (p *parser) isProse() bool {
	if p.unknown == 0 {
		return false
	}
	kept, good := p.entries[:0], 0
	for _, e := range p.entries {
		if !e.keyed {
			continue
		}
		if e.code == OK {
			good++
		}
		kept = append(kept, e)
	}
	p.entries = kept
	return 2*(p.unknown-p.placed)+p.placed > good
}

// checkSilent names the problem of a text that says nothing at all.
func (p *parser) checkSilent(res *Result) {
	if p.problem != nil || len(p.entries) > 0 || p.totaled {
		return
	}
	for _, r := range p.text {
		if unicode.IsLetter(r) {
			p.fail(Problem{Code: Unreadable, Near: near(p.text), Line: -1})
			res.Prose = true
			return
		}
	}
	p.fail(Problem{Code: Empty, Line: -1})
}

// The states of a line in answers.got, beside its own index once it is answered.
const (
	open     = -1
	disputed = -2 // answered twice: neither figure is kept
)

// answers gives entries to lines.
type answers struct {
	*parser
	got []Item
}

// items keeps the lines that are answered, in place.
func (ans *answers) items() []Item {
	items := ans.got[:0]
	for _, item := range ans.got {
		if item.Line >= 0 {
			items = append(items, item)
		}
	}
	return items
}

func (ans *answers) answer() {
	if !ans.anyKeyed() {
		if ans.answerBare() {
			return
		}
		ans.givePairs()
	}
	ans.answerKeyed()
}

func (ans *answers) anyKeyed() bool {
	for i := range ans.entries {
		if ans.entries[i].keyed {
			return true
		}
	}
	return false
}

// put gives a quantity to a line.
func (ans *answers) put(line int, e *entry) {
	if ans.got[line].Line != open {
		ans.got[line].Line = disputed
		ans.refuse(Twice, line, e)
		return
	}
	item := Item{Line: line}
	var code Code
	if e.isMoney && e.code == OK {
		item.FromValue, item.Value = true, e.money.text()
		item.Notes, code = ans.notesOf(line, e.money)
	} else {
		item.Notes, code = e.notes(ans.req.Lines[line].Bundle)
	}
	if code != OK {
		ans.refuse(code, line, e)
		return
	}
	ans.got[line] = item
}

// notesOf is how many notes of the line make the amount.
func (ans *answers) notesOf(line int, amount value) (int64, Code) {
	face := ans.faces[line]
	if face == 0 {
		return 0, NotWhole
	}
	n, rest := amount.amount().QuoRem(face.amount(), 0)
	if !rest.IsZero() {
		return 0, NotWhole
	}
	if n.GreaterThan(decimal.NewFromInt(MaxNotes)) {
		return 0, TooBig
	}
	return n.IntPart(), OK
}

// refuse names the problem of an entry; line is -1 when it is for no single line.
func (ans *answers) refuse(code Code, line int, e *entry) {
	problem := Problem{Code: code, Near: near(ans.text[e.start:e.end]), Line: line}
	if line >= 0 {
		problem.Face = ans.req.Lines[line].Face
	}
	if e.face != 0 {
		problem.Face = e.face.text()
	}
	if code == NotWhole {
		problem.Value = e.money.text()
	}
	ans.fail(problem)
}

// answerKeyed answers with entries of which some name a box or a kind of note. A bare number goes on where
// the entry before it ended, the first one at the next line.
func (ans *answers) answerKeyed() {
	if ans.turned() {
		if len(ans.entries) > 1 {
			ans.refuse(FaceOrNotes, -1, &ans.entries[0])
			return
		}
		ans.readAdded(&ans.entries[0])
	}
	cursor := ans.next()
	for i := range ans.entries {
		cursor = ans.give(cursor, i)
		if e := &ans.entries[i]; e.code == NoCount {
			cursor = -1 // the next bare number may be the one that is missing
		}
	}
}

// readAdded reads +50x20 as it is said of notes that are added: fifty twenties.
func (ans *answers) readAdded(e *entry) {
	e.face = ans.atoms[e.atom+2].fig.value
	e.parts[0], e.nParts = 0, 0
	e.add(ans.atoms[e.atom].fig)
}

// turned recognizes faces that are linked to faces. 20x10, 10x20 may be twenties and tens
// or the other way round; of more than two the first is the face, as everywhere, and with a
// plus in front of one it is the notes.
func (ans *answers) turned() bool {
	if n := len(ans.entries); n == 0 || n > 2 || n == 1 && (ans.entries[0].atom == 0 ||
		ans.kind(ans.entries[0].atom-1) != plusAtom) {
		return false
	}
	for i := range ans.entries {
		e := &ans.entries[i]
		k := e.atom + 2
		if e.code != OK || ans.kind(e.atom) != figureAtom || ans.kind(e.atom+1) != timesAtom ||
			ans.kind(k) != figureAtom || !ans.isFaceFigure(ans.atoms[e.atom].fig) ||
			!ans.isFaceFigure(ans.atoms[k].fig) || ans.atoms[k].fig.value == ans.atoms[e.atom].fig.value {
			return false
		}
	}
	return true
}

// give answers with entry i and returns the line for a bare number behind it, -1 if that is unknown.
func (ans *answers) give(cursor, i int) (next int) {
	e := &ans.entries[i]
	if !e.keyed {
		return ans.giveNext(cursor, e)
	}
	if e.line < 0 {
		return ans.giveFace(i)
	}
	ans.put(e.line, e)
	return e.line + 1
}

// giveNext gives a bare number to the line at the cursor if that is open.
func (ans *answers) giveNext(cursor int, e *entry) (next int) {
	if cursor < 0 || cursor >= len(ans.got) || ans.got[cursor].Line != open {
		ans.refuse(TooMany, -1, e)
		return -1
	}
	ans.put(cursor, e)
	return cursor + 1
}

// giveFace gives entry i to the box or boxes of its face.
func (ans *answers) giveFace(i int) (next int) {
	e := &ans.entries[i]
	first, boxes := ans.boxesOf(e.face)
	before, all := ans.mentions(i)
	if boxes == 0 || boxes > 1 && e.code != OK {
		ans.refuse(e.code, -1, e)
		return -1
	}
	if boxes == 1 {
		ans.put(first, e)
		return first + 1
	}
	if all == boxes && e.nParts < 2 {
		line := ans.boxAt(e.face, before)
		ans.put(line, e)
		return line + 1
	}
	each := (ans.each || ans.both && boxes == 2) && e.nParts == 1
	if all == 1 && (e.isZero() || each || !e.bundled && !e.isMoney && e.nParts == boxes) {
		return ans.giveBoxes(e, boxes)
	}
	code := AmbiguousFace
	if all > boxes {
		code = Twice
	}
	ans.refuse(code, -1, e)
	return -1
}

// giveBoxes gives one number of the entry to each box of its face, or no notes to all of them.
func (ans *answers) giveBoxes(e *entry, boxes int) (next int) {
	for k := range boxes {
		part := *e
		part.parts[0], part.nParts = e.parts[k%e.nParts], 1
		next = ans.boxAt(e.face, k)
		ans.put(next, &part)
	}
	return next + 1
}

// boxesOf is the first line of the face and how many there are.
func (p *parser) boxesOf(face value) (first, n int) {
	for _, f := range p.faces {
		if f == face {
			n++
		}
	}
	return slices.Index(p.faces, face), n
}

// boxAt is the line of the k-th box of the face, k below their number.
func (ans *answers) boxAt(face value, k int) int {
	line := -1
	for ; k >= 0; k-- {
		for line++; ans.faces[line] != face; line++ {
		}
	}
	return line
}

// mentions counts the entries for the same face as entry i, and those of them before it.
func (ans *answers) mentions(i int) (before, all int) {
	for k := range ans.entries {
		e := &ans.entries[k]
		if !e.keyed || e.line >= 0 || e.face != ans.entries[i].face {
			continue
		}
		if k < i {
			before++
		}
		all++
	}
	return before, all
}

// giveTotal gives the total back if there was one.
func (ans *answers) giveTotal(res *Result) {
	if !ans.totaled || res.Prose {
		return
	}
	if ans.total.code != OK {
		ans.fail(Problem{Code: ans.total.code, Near: near(ans.totalText), Line: -1})
		return
	}
	res.Total = ans.total.value.text()
	if len(ans.entries) == 0 && !ans.req.Values {
		ans.fail(Problem{Code: TotalOnly, Near: near(ans.totalText), Value: res.Total, Line: -1})
	}
}
