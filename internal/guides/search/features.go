package search

import (
	"slices"
	"strings"

	"shopfloat/internal/learn"
)

// reader turns a text into marks: what the model counts on.
type reader struct {
	lx     *lexicon
	sp     *learn.Speller
	common map[string]bool // stems seen in two or more of the learnt phrases
}

// reading is what a text says, before it is weighed.
type reading struct {
	marks   []string // sorted, each once
	pointed bool     // names anything a guide could be about
}

// Marks that stand for the whole text rather than a word of it.
const (
	strangeOne   = "?"  // a word nobody taught us
	strangeMore  = "??" // several of them
	foreignOne   = "x"  // an idea that has nothing to do with the machine
	foreignMore  = "xx" // several of them
	foreignAlone = "x0" // such an idea, and no part of the machine named
	strangeAlone = "?0" // a strange word, and no part of the machine named
	unnamed      = "0"  // no part of the machine named
)

// pointers are fillers that still tell small talk from a question about the
// machine: "my phone is dead", "who are you".
var pointers = []string{"my", "your", "you", "her", "his", "are", "me"}

// read lists the words of a text, the ideas they stand for, every two of
// those together, and whether it speaks of the machine at all.
func (r *reader) read(text string) reading {
	words := r.words(text)
	row := stems(content(words))
	var out reading
	units, strange := r.known(row, &out)
	for _, w := range words {
		if slices.Contains(pointers, w) {
			units = append(units, w)
		}
	}
	if m := askedGot(text); m != "" {
		units = append(units, m)
	}
	foreign, things := 0, 0
	for _, id := range r.ideas(row, words) {
		units = append(units, "@"+id.name)
		out.pointed = out.pointed || !id.weak && !id.foreign
		foreign += count(id.foreign)
		things += count(id.thing)
	}
	out.marks = append(out.marks, units...)
	out.marks = append(out.marks, whole(strange, foreign, things)...)
	out.marks = appendPairs(out.marks, units)
	slices.Sort(out.marks)
	out.marks = slices.Compact(out.marks)
	return out
}

// ideas looks twice: at the words that carry meaning, and at all of them for
// phrases such as "not yet", of which only one word would be left.
func (r *reader) ideas(row, words []string) []*idea {
	return r.lx.find(stems(words), r.lx.find(row, nil))
}

// words reads a text, mending its spelling on the way.
func (r *reader) words(text string) []string {
	var out []string
	for _, w := range split(text) {
		out = append(out, r.sp.Mend(w)...)
	}
	return expand(out)
}

// known marks the words we know. Those without an idea may pair with others.
func (r *reader) known(row []string, out *reading) (units []string, strange int) {
	for _, s := range row {
		hasIdea := len(r.lx.ideas[s]) > 0
		switch {
		case r.lx.forgets(s):
		case r.common[s] && hasIdea:
			out.marks = append(out.marks, s)
		case r.common[s]:
			units = append(units, s)
		case !hasIdea:
			strange++
		}
	}
	return units, strange
}

func whole(strange, foreign, things int) []string {
	var out []string
	add := func(mark string, when bool) {
		if when {
			out = append(out, mark)
		}
	}
	add(strangeOne, strange > 0)
	add(strangeMore, strange > 1)
	add(foreignOne, foreign > 0)
	add(foreignMore, foreign > 1)
	add(foreignAlone, foreign > 0 && things == 0)
	add(strangeAlone, strange > 0 && things == 0)
	add(unnamed, things == 0)
	return out
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

// pairSign joins two marks that stand in one text.
const pairSign = "+"

// marksOf takes marks in words for the model.
func marksOf(list []string) []learn.Mark {
	out := make([]learn.Mark, len(list))
	for i, s := range list {
		out[i] = learn.Of(s)
		out[i].Pair = strings.Contains(s, pairSign)
	}
	return out
}

func appendPairs(out, units []string) []string {
	for i, a := range units {
		for _, b := range units[i+1:] {
			switch {
			case a < b:
				out = append(out, a+pairSign+b)
			case a > b:
				out = append(out, b+pairSign+a)
			}
		}
	}
	return out
}
