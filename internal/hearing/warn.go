package hearing

import (
	"cmp"
	"slices"
	"strings"

	"shopfloat/internal/guides/search"
	"shopfloat/internal/learn"
	"shopfloat/internal/wording"
)

// dangers are the classes of the model that knows dangers; the last is none.
var dangers = []string{Caller, Fire, Hurt, Robbery, ""}

// What shares words with a danger and is none: what asks for something else, and what asks for nothing.
const (
	nearFile = "near"
	calmFile = "calm"
)

// besideWeight is what a phrase counts that was not written with dangers in mind.
const besideWeight = 0.15

// warnings makes examples of what is a danger, of what only sounds like one, and of
// everything else that is said.
func (e *Ear) warnings(all []said, topics []search.Topic) []learn.Example {
	var out []learn.Example
	add := func(text string, class int, weight float64) {
		out = append(out, learn.Example{Marks: e.signs(text, nil, false), Class: class, Weight: weight})
	}
	calm := len(dangers) - 1
	for _, s := range all {
		danger, is := strings.CutPrefix(s.id, dangerID)
		for _, p := range s.phrases {
			switch {
			case is:
				add(p.text, slices.Index(dangers, danger), 1)
			case s.id == nearFile, s.id == calmFile:
				add(p.text, calm, 1)
			default:
				add(p.text, calm, besideWeight)
			}
		}
	}
	for _, t := range topics {
		if t.ID == Robbery || t.ID == Caller { // what is said for these may be a danger
			continue
		}
		for _, text := range t.Asked {
			add(text, calm, besideWeight)
		}
	}
	return out
}

// signs are the words of a text as they are written, what they stand for with slips mended too,
// and what the evidence says of it.
func (e *Ear) signs(text string, names []string, naming bool) []learn.Mark {
	var words []string
	out := []learn.Mark{learn.Of("all")}
	for _, c := range wording.Clauses(text) {
		bare := wording.Unpolite(nameless(c.Words, names))
		words = append(words, bare...)
		out = append(out, e.guard.evidence(c, bare, names, naming)...)
	}
	row := stemmed(words)
	for i, s := range row {
		if hasDigit(s) {
			row[i] = "#"
			continue
		}
		out = append(out, learn.Of(s))
	}
	if strings.Contains(text, "?") {
		out = append(out, learn.Of("?"))
	}
	out = appendRows(out, row)
	for _, s := range e.guard.signs.Find(e.mk.mended(words)) {
		out = append(out, learn.Of("m:"+s.Kind))
	}
	slices.SortFunc(out, byID)
	return slices.Compact(out)
}

// evidence makes marks of the kinds of words in a clause, of two of them together, and of what
// they prove.
func (g *guard) evidence(c wording.Clause, bare, names []string, naming bool) []learn.Mark {
	var kinds []learn.Mark
	spans := g.lx.Find(bare)
	for _, s := range spans {
		sign := "g:"
		if excused(s, spans) || byMachine(s, spans, bare) || ofPlace(s, spans) {
			sign = "g!"
		}
		if denied(bare[:s.From]) {
			sign += "no "
		}
		kinds = append(kinds, learn.Of(sign+s.Kind))
	}
	var rows []learn.Mark
	last := "^"
	for _, s := range g.signs.Find(bare) {
		kinds = append(kinds, learn.Of("s:"+s.Kind))
		rows = append(rows, learn.Of("s:"+last+">"+s.Kind))
		last = s.Kind
	}
	if d := g.clause(c, names, naming); d != "" {
		kinds = append(kinds, learn.Of("proof"), learn.Of("proof:"+d))
	}
	if against(bare, spans) {
		kinds = append(kinds, learn.Of("against"))
	}
	slices.SortFunc(kinds, byID)
	kinds = slices.Compact(kinds)
	out := append(rows, kinds...)
	for i, a := range kinds {
		for _, b := range kinds[i+1:] {
			out = append(out, learn.Both(a, b))
		}
	}
	return out
}

// deniedWithin is how many words before a word of danger a denial stands: no fire, nobody was hurt.
const deniedWithin = 2

// denied reports whether what stands before a word denies it.
func denied(before []string) bool {
	return slices.ContainsFunc(before[max(0, len(before)-deniedWithin):], func(w string) bool {
		return w == "no" || w == "not" || w == "nobody" || w == "never" ||
			w == "one" && slices.Contains(before, "no")
	})
}

// warned gives the likeliest danger of a text, and how likely it is. A long text may speak of
// it in one clause; the others then must not speak against it.
func (e *Ear) warned(text string, names []string) (string, float64) {
	danger, sure := e.warning(text, names)
	clauses := wording.Clauses(text)
	if len(clauses) < 2 {
		return danger, sure
	}
	most := clauseTrust * sure
	for _, c := range clauses {
		if d, p := e.warning(c.Text, names); min(p, most) > sure {
			danger, sure = d, min(p, most)
		}
	}
	return danger, sure
}

// clauseTrust is how many times likelier a clause may make a danger than the whole does.
const clauseTrust = 2

func (e *Ear) warning(text string, names []string) (string, float64) {
	p := e.warns.Chances(e.signs(text, names, false))
	at := 0
	for i := range p[:len(dangers)-1] {
		if p[i] > p[at] {
			at = i
		}
	}
	return dangers[at], 1 - p[len(dangers)-1]
}

// somebody are the commands whose words may say who is hurt: "staff hurt".
var somebody = []string{"people", "ill"}

// oddWord gives the only word that a text has, by itself or behind a command's words, figures
// aside. It is likelier a slip in what is counted or what the command takes than news of a
// danger: "20 blue", "day blue".
func (e *Ear) oddWord(text string) string {
	words := slices.DeleteFunc(wording.Unpolite(wording.Of(text)), hasDigit)
	last := len(words) - 1
	if last <= 0 {
		return strings.Join(words, "")
	}
	said := strings.Join(words[:last], " ")
	for _, c := range e.words {
		if slices.Contains(c.List, said) && !slices.Contains(somebody, c.ID) {
			return words[last]
		}
	}
	return ""
}

// shortName is the most words of what may be the name of a shop, in any language: "Kiosk am See".
const shortName = 4

// present gives the danger that a text speaks of, "" for none. Where a name is given, and of a
// word by itself or behind a command's, only what is proved counts; a word of another language
// that means a danger always does.
func (e *Ear) present(text string, sit Situation) string {
	if sit.Naming && len(wording.Of(text)) <= shortName {
		return e.guard.danger(text, sit.Names, isName(text))
	}
	if d := e.guard.foreign(text, sit.Names); d != "" {
		return d
	}
	if last := e.oddWord(text); last != "" {
		return cmp.Or(e.guard.danger(text, sit.Names, false), e.guard.danger(last, sit.Names, false))
	}
	d, sure := e.warned(text, sit.Names)
	return e.limits.alarm(d, e.guard.danger(text, sit.Names, false), sure)
}
