package search

import (
	"slices"
)

// reader turns a text into marks: what the model counts on.
type reader struct {
	lx     *lexicon
	sp     *speller
	common map[string]bool // stems seen in two or more of the learnt phrases
}

// marks lists the words of a text, the ideas they stand for, every two of
// those together, and whether there were words nobody taught us.
func (r *reader) marks(text string) []string {
	row := r.row(text)
	ideas := r.lx.find(row)
	var out, units []string
	strange := 0
	for _, s := range row {
		alone := r.lx.ideas[s]
		switch {
		case r.lx.same[s]:
		case r.common[s]:
			out = append(out, s)
		case len(alone) == 0:
			strange++
		}
		if len(alone) == 0 && r.common[s] {
			units = append(units, s)
		}
	}
	for _, w := range tokens(text) {
		if slices.Contains(pointers, w) {
			out, units = append(out, w), append(units, w)
		}
	}
	for _, idea := range ideas {
		units = append(units, "@"+idea)
		out = append(out, "@"+idea)
	}
	if strange > 0 {
		out = append(out, "?")
	}
	if strange > 1 {
		out = append(out, "??")
	}
	if m := askedGot(text); m != "" {
		out, units = append(out, m), append(units, m)
	}
	out = appendPairs(out, units)
	slices.Sort(out)
	return slices.Compact(out)
}

func (r *reader) row(text string) []string {
	var words []string
	for _, w := range content(tokens(text)) {
		words = append(words, r.sp.mend(w)...)
	}
	return stems(words)
}

func appendPairs(out, units []string) []string {
	for i, a := range units {
		for _, b := range units[i+1:] {
			if a == b {
				continue
			}
			if a > b {
				out = append(out, b+"+"+a)
			} else {
				out = append(out, a+"+"+b)
			}
		}
	}
	return out
}

// pointers are fillers that still tell small talk from a question about the
// machine: "my phone is dead", "who are you".
var pointers = []string{"my", "your", "you", "her", "his", "are", "me"}

// pointed says whether a text names anything a guide could be about.
func (r *reader) pointed(text string) bool {
	return slices.ContainsFunc(r.lx.find(r.row(text)), func(idea string) bool { return !r.lx.weak[idea] })
}
