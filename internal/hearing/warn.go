package hearing

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing/phrases"
	"shopfloat/internal/learn"
	"shopfloat/internal/wording"
)

// dangers are the classes of the model that knows dangers; the last is none.
var dangers = []string{Caller, Fire, Hurt, Robbery, ""}

// What a phrase counts that is no danger: one that only sounds like it, small talk, and what was not
// written with dangers in mind. A danger counts 1. They are chosen by leaving voices out.
const (
	calmWeight   = 0.8
	talkWeight   = 0.25
	besideWeight = 0.05
	guideWeight  = 0.2 // what is wrong at a machine is nearer to a danger
)

// warnings makes examples of what is a danger, of what only sounds like one, and of
// everything else that is said.
func (e *Ear) warnings(all []phrases.Said, topics []search.Topic) []learn.Example {
	var out []learn.Example
	add := func(text string, class int, weight float64) {
		out = append(out, learn.Example{Marks: e.signs(text, nil, false), Class: class, Weight: weight})
	}
	calm := len(dangers) - 1
	for _, s := range all {
		danger, is := strings.CutPrefix(s.ID, dangerID)
		for _, p := range s.Phrases {
			switch {
			case is:
				add(p.Text, slices.Index(dangers, danger), 1)
			case s.ID == phrases.Near, s.ID == phrases.Calm:
				add(p.Text, calm, calmWeight)
			case s.ID == phrases.Chatter:
				add(p.Text, calm, talkWeight)
			case s.Guide:
				add(p.Text, calm, guideWeight)
			case !p.Meant:
				add(p.Text, calm, besideWeight)
			}
		}
	}
	for _, t := range topics {
		if t.ID == Robbery || t.ID == Caller { // what is said for these may be a danger
			continue
		}
		for _, text := range t.Asked {
			add(text, calm, guideWeight)
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
		bare := wording.Unpolite(e.guard.ownerless(nameless(c.Words, names), names))
		words = append(words, bare...)
		out = append(out, e.guard.evidence(c, bare, e.mk.mended(bare), names, naming)...)
	}
	row := stemmed(words)
	strange := 0
	for i, s := range row {
		if hasDigit(s) {
			row[i] = "#"
			continue
		}
		out = append(out, learn.Of(s))
	}
	mended := e.mk.mended(words)
	for i, s := range stemmed(mended) {
		if hasDigit(s) {
			continue
		}
		out = append(out, learn.Of(s))
		if !wording.Function[mended[i]] && e.mk.kinds[s]&inDanger == 0 {
			strange++
		}
	}
	for _, w := range mended {
		out, _ = e.mk.appendSense(out, w)
	}
	out = appendStrange(out, strange, len(row))
	if strings.Contains(text, "?") {
		out = append(out, learn.Of("?"))
	}
	out = appendRows(out, row)
	for _, s := range e.guard.signs.Find(mended) {
		out = append(out, learn.Of("m:"+s.Kind))
	}
	slices.SortFunc(out, byID)
	return slices.Compact(out)
}

// ownerless leaves out names with an s, as in "ben's ill", as far as that is no word of danger: robs.
func (g *guard) ownerless(words, names []string) []string {
	return slices.DeleteFunc(words, func(w string) bool {
		name, is := strings.CutSuffix(w, "s")
		return is && len(g.lx.Find([]string{w})) == 0 && slices.ContainsFunc(names, func(n string) bool {
			return slices.Contains(wording.Of(n), name)
		})
	})
}

// appendStrange marks how many of the words stand in no danger that was learnt: who is in danger
// says little else.
func appendStrange(out []learn.Mark, strange, words int) []learn.Mark {
	many, size := "u:"+upTo(strange, 4), "l:"+upTo(words, 9)
	a, b := learn.Of(many), learn.Of(size)
	proven := slices.Contains(out, learn.Of("proof"))
	out = append(out, a, b, learn.Both(a, b))
	if proven {
		out = append(out, learn.Both(a, learn.Of("proof")), learn.Both(learn.Of(many+size), learn.Of("proof")))
	}
	return out
}

// evidence makes marks of the kinds of words in a clause, of two of them together, and of what
// they prove. What is proved only once slips are mended is a mark of its own: Gunn, Axel.
func (g *guard) evidence(c wording.Clause, bare, mended, names []string, naming bool) []learn.Mark {
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
	for _, s := range g.signs.Find(mended) {
		kinds = append(kinds, learn.Of("s:"+s.Kind))
		rows = append(rows, learn.Of("s:"+last+">"+s.Kind))
		last = s.Kind
	}
	if d := g.clause(c, names, naming); d != "" {
		kinds = append(kinds, learn.Of("proof"), learn.Of("proof:"+d))
	}
	if !slices.Equal(bare, mended) {
		if d := g.clause(wording.Clause{Text: strings.Join(mended, " "), Words: mended}, names, naming); d != "" {
			kinds = append(kinds, learn.Of("proof:mend"), learn.Of("proof:mend:"+d))
		}
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
	most := clauseTrust * sure
	for _, part := range parts(text) {
		if d, p := e.warning(part, names); min(p, most) > sure {
			danger, sure = d, min(p, most)
		}
	}
	return danger, sure
}

// partWords is how many words a part at a comma has at least: less says little by itself.
const partWords = 3

// parts are the clauses of a text, and what stands between its commas.
func parts(text string) (out []string) {
	clauses := wording.Clauses(text)
	for _, c := range clauses {
		if len(clauses) > 1 {
			out = append(out, c.Text)
		}
		cut := strings.Split(c.Text, ",")
		for _, part := range cut {
			if len(cut) > 1 && len(strings.Fields(part)) >= partWords {
				out = append(out, part)
			}
		}
	}
	return out
}

// proven gives the danger that the words of a text prove, or would prove without slips.
func (e *Ear) proven(text string, names []string) string {
	if d := e.guard.danger(text, names, false); d != "" {
		return d
	}
	for _, c := range wording.Clauses(text) {
		mended := e.mk.mended(c.Words)
		c = wording.Clause{Text: strings.Join(mended, " "), Words: mended}
		if d := e.guard.clause(c, names, false); d != "" {
			return d
		}
	}
	return ""
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

// titled reports whether a text is written as names of shops are: The Robber's Dog, Fire & Grill.
func titled(text string) bool {
	capitals := 0
	for _, w := range strings.Fields(text) {
		letters := strings.TrimFunc(w, func(r rune) bool { return !unicode.IsLetter(r) })
		first, rest := firstOf(letters)
		switch {
		case letters == "":
		case unicode.IsUpper(first) && rest != "" && rest == strings.ToLower(rest):
			capitals++
		case !wording.Function[strings.ToLower(letters)]:
			return false
		}
	}
	return capitals > 1
}

// abroad reports whether a text has a word of another language that may be a danger's and is in everyday
// use, too, and no English word that says something: what was learnt from English knows nothing of it.
func (e *Ear) abroad(text string) bool {
	words := wording.Of(text)
	return slices.ContainsFunc(e.guard.lx.Find(words), func(s wording.Span) bool {
		return strings.Contains(s.Kind, " ") && strings.HasSuffix(s.Kind, "?")
	}) && !slices.ContainsFunc(words, func(w string) bool {
		_, english := e.mk.senses[w]
		return english && !wording.Function[w]
	})
}

// present gives the danger that a text speaks of, "" for none. Where a name is given, of what is
// written as one or is of another language, and of a word by itself or behind a command's, only what
// is proved counts; a word of another language that means a danger always does.
func (e *Ear) present(text string, sit Situation) string {
	if sit.Naming && len(wording.Of(text)) <= shortName {
		if titled(text) && !wording.Has(e.guard.lx.Find(wording.Of(text)), "now") {
			return ""
		}
		return e.guard.danger(text, sit.Names, isName(text))
	}
	if d := e.guard.foreign(text, sit.Names); d != "" {
		return d
	}
	if len(wording.Of(text)) <= shortName && titled(text) || e.abroad(text) {
		return e.guard.danger(text, sit.Names, false)
	}
	if last := e.oddWord(text); last != "" {
		return cmp.Or(e.guard.danger(text, sit.Names, false), e.guard.danger(last, sit.Names, false))
	}
	d, sure := e.warned(text, sit.Names)
	return e.limits.alarm(d, e.proven(text, sit.Names), sure)
}
