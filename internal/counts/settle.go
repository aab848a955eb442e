package counts

import (
	"unicode"

	"github.com/shopspring/decimal"
)

// settle decides which line each entry answers and builds the result.
func (p *parser) settle() Result {
	s := settler{parser: p, got: make([]Item, len(p.req.Lines))}
	for i := range s.got {
		s.got[i].Line = open
	}
	res := Result{}
	switch {
	case p.isProse():
		res.Prose = p.words > 0
		p.entries = nil
	case len(p.entries) > 0:
		s.settle()
		res.Bare = len(p.entries) == 1 && !p.entries[0].keyed && !p.totaled
	}
	s.giveTotal(&res)
	res.Items = s.items()
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

// The states of a line in settler.got, beside its own index once it is answered.
const (
	open     = -1
	disputed = -2 // answered twice: neither figure is kept
)

// settler gives entries to lines.
type settler struct {
	*parser
	got []Item
}

// items keeps the lines that are answered, in place.
func (s *settler) items() []Item {
	items := s.got[:0]
	for _, item := range s.got {
		if item.Line >= 0 {
			items = append(items, item)
		}
	}
	return items
}

func (s *settler) settle() {
	if !s.anyKeyed() {
		if s.settleBare() {
			return
		}
		s.pairUp()
	}
	s.settleKeyed()
}

func (s *settler) anyKeyed() bool {
	for i := range s.entries {
		if s.entries[i].keyed {
			return true
		}
	}
	return false
}

// put gives a quantity to a line.
func (s *settler) put(line int, e *entry) {
	if s.got[line].Line != open {
		s.got[line].Line = disputed
		s.refuse(Twice, line, e)
		return
	}
	item := Item{Line: line}
	var code Code
	if e.isMoney && e.code == OK {
		item.FromValue, item.Value = true, e.money.String()
		item.Notes, code = s.notesOf(line, e.money)
	} else {
		item.Notes, code = e.notes(s.req.Lines[line].Bundle)
	}
	if code != OK {
		s.refuse(code, line, e)
		return
	}
	s.got[line] = item
}

// notesOf is how many notes of the line make the amount.
func (s *settler) notesOf(line int, amount decimal.Decimal) (int64, Code) {
	face := figure{text: s.faces[line]}.amount()
	if face.IsZero() {
		return 0, NotWhole
	}
	n, rest := amount.QuoRem(face, 0)
	if !rest.IsZero() {
		return 0, NotWhole
	}
	if n.GreaterThan(decimal.NewFromInt(MaxNotes)) {
		return 0, TooBig
	}
	return n.IntPart(), OK
}

// refuse names the problem of an entry; line is -1 when it is for no single line.
func (s *settler) refuse(code Code, line int, e *entry) {
	if s.problem != nil {
		return
	}
	problem := Problem{Code: code, Near: near(s.text[e.start:e.end]), Line: line}
	switch {
	case e.face != "":
		problem.Face = e.face
	case line >= 0:
		problem.Face = s.req.Lines[line].Face
	}
	if code == NotWhole {
		problem.Value = e.money.String()
	}
	s.fail(problem)
}
