// Package choosing hears which of a few choices is meant by what somebody says of them.
package choosing

import (
	"slices"
	"strings"

	"shopfloat/internal/learn"
	"shopfloat/internal/wording"
)

// A choice is answered by its own words, by everyday words for it, or by what says
// yes, no or done where one of the choices alone can be meant. Whether something is
// denied has to be the same in both: "not red" is no answer to "Red".

// The ideas that stand for several words in a choice.
const (
	ideaGood   = "@good"
	ideaBad    = "@bad"
	ideaDone   = "@done"
	ideaUnsure = "@unsure"
	ideaAlone  = "@alone"
)

// sayings are rows of words that stand for one idea, the longest first.
var sayings = []struct {
	idea string
	list [][]string
}{
	{ideaUnsure, wording.Rows("do not know", "no idea", "not sure", "can not tell", "could not tell", "unsure",
		"no clue", "can not say", "or not sure", "still unsure", "not certain", "hard to say")},
	{ideaAlone, wording.Rows("alone", "by myself", "on my own", "only me", "just me", "nobody else here",
		"no one else here", "nobody else", "no one else")},
	{ideaBad, wording.Rows("did not help", "does not help", "no luck", "no change", "no difference",
		"does not work",
		"did not work", "not working", "still not working", "still not", "same as before", "the same thing",
		"same",
		"still the same", "no good", "no use", "it failed", "fails", "failed", "it fails", "still broken",
		"still dead", "dead", "still refuses", "no better", "still")},
	{ideaGood, wording.Rows("works", "works again", "working", "working again", "it worked", "worked", "fixed",
		"sorted",
		"solved", "all good", "fine", "fine now", "fine again", "good again", "good now", "back to normal",
		"pays",
		"pays again", "it is back", "back again", "steady", "runs again", "running again", "work again",
		"all well",
		"all right", "all clear", "all is right", "that did it", "that helped", "prints well", "is ready",
		"went through", "lights again", "is online", "fits")},
	{ideaDone, wording.Rows("done", "all done", "did it", "did that", "i did", "finished", "ready",
		"have done it",
		"have done that", "go on", "next", "continue", "write it down", "written down", "written it down",
		"wrote it down",
		"noted it", "noted", "counted", "stopped", "told", "told them", "ordered", "corrected", "put aside",
		"rung",
		"rang", "rang them", "called them", "phoned them", "in the envelope", "in its envelope", "handed in",
		"sorted and counted", "finished now", "in an envelope",
		"typed it in", "typed them in", "put it in", "put them in")},
}

// rightWords are stems that say of what is read back that it is so.
var rightWords = wording.Set(`done exact good fine perfect match true`)

var (
	denying  = wording.Set(`no not nothing none nobody never without nowhere neither nor nope`)
	yesWords = wording.Set(`yes yeah yep yup sure correct ok okay right alright yea aye definitely`)
	noWords  = wording.Set(`no nope nah`)
)

// fit is what a text or a choice says.
type fit struct {
	said   []string // stems and ideas, each once
	denied bool
	yes    bool // it begins with a yes
	no     bool
	words  int
}

func fitOf(words []string) fit {
	var f fit
	f.words = len(words)
	if len(words) > 0 {
		f.yes, f.no = yesWords[words[0]], noWords[words[0]]
	}
	f.denied = slices.ContainsFunc(words, func(w string) bool { return denying[w] })
	for _, s := range sayings {
		words = f.take(words, s.idea, s.list)
	}
	f.denied = f.denied || slices.Contains(f.said, ideaBad)
	for _, w := range words {
		if w != "" && !wording.Function[w] && !wording.Idle[w] && !yesWords[w] && w != "nope" {
			f.said = append(f.said, learn.Stem(w))
		}
	}
	slices.Sort(f.said)
	f.said = slices.Compact(f.said)
	return f
}

// take finds the rows of words of one idea, and gives the words without them.
func (f *fit) take(words []string, idea string, list [][]string) []string {
	words = slices.Clone(words)
	for _, p := range list {
		for i := 0; i+len(p) <= len(words); i++ {
			if slices.Equal(words[i:i+len(p)], p) {
				f.said = append(f.said, idea)
				if len(p) > 1 { // the single words may be those of the other choice, too
					clear(words[i : i+len(p)])
				}
			}
		}
	}
	return words
}

// choiceWords is how long an answer to a choice is at most; more is a story.
const choiceWords = 9

// Named gives the choice that a text names in words of its own, or begins like: no, one only. It is -1 where
// none or several may be meant, and for what agrees or denies where no choice does.
func Named(text string, labels []string) int {
	words := unpoliteAnswer(wording.Of(text))
	said := fitOf(words)
	if len(words) > choiceWords || strings.Contains(text, "?") {
		return -1
	}
	fits := make([]fit, len(labels))
	for i, l := range labels {
		fits[i] = fitOf(wording.Of(l))
	}
	alike := single(fits, func(f fit) bool { return said.yes && f.yes || said.no && f.no })
	if alike >= 0 || len(said.said) == 0 || onlyDone(said) {
		return alike
	}
	return said.best(fits)
}

// Explained gives the choice that has each word of a text that tells something, or that is said just so;
// -1 where none has, or several.
func Explained(text string, labels []string) int {
	words := wording.Of(text)
	if i := slices.IndexFunc(labels, func(l string) bool { return slices.Equal(wording.Of(l), words) }); i >= 0 {
		return i
	}
	at, said := Named(text, labels), fitOf(unpoliteAnswer(words))
	if at < 0 || shared(said, fitOf(wording.Of(labels[at]))) < max(len(said.said), 1) {
		return -1
	}
	return at
}

// Agrees reports whether nothing is said but that something is right or done.
func Agrees(text string) bool {
	words := unpoliteAnswer(wording.Of(text))
	said := fitOf(words)
	agrees := slices.ContainsFunc(words, func(w string) bool { return yesWords[w] || rightWords[w] }) ||
		slices.Contains(said.said, ideaDone) || slices.Contains(said.said, ideaGood)
	return agrees && len(words) <= choiceWords && !said.denied && !strings.Contains(text, "?") &&
		!slices.ContainsFunc(said.said, func(s string) bool {
			return s != ideaGood && s != ideaDone && !rightWords[s]
		})
}

// Choose gives the choice that a text means, of those that stand there; -1 where none
// or several may be meant.
func Choose(text string, labels []string) int {
	words := wording.Of(text)
	if len(words) == 0 || len(words) > choiceWords {
		return -1
	}
	fits := make([]fit, len(labels))
	for i, l := range labels {
		own := wording.Of(l)
		if slices.Equal(own, words) {
			return i
		}
		fits[i] = fitOf(own)
	}
	if strings.Contains(text, "?") {
		return -1 // it asks back
	}
	words = unpoliteAnswer(words)
	at := meant(words, fits)
	if at < 0 && len(words) > 1 && noWords[words[0]] { // "no, it is red"
		at = meant(words[1:], fits)
	}
	return at
}

// meant is the choice that words mean.
func meant(words []string, fits []fit) int {
	said := fitOf(words)
	if len(said.said) == 0 || onlyDone(said) {
		if i := only(fits, said); i >= 0 || len(said.said) == 0 {
			return i
		}
	}
	return said.best(fits)
}

// unpoliteAnswer cuts courtesy, but no yes and no no.
func unpoliteAnswer(words []string) []string {
	if len(words) > 0 && (yesWords[words[0]] || noWords[words[0]]) {
		return words
	}
	return wording.Unpolite(words)
}

func onlyDone(f fit) bool {
	return len(f.said) == 1 && (f.said[0] == ideaDone || f.said[0] == ideaGood && f.words == 1)
}

// best is the choice that shares most with what was said, if no other shares as much
// and it explains at least half of it.
func (said fit) best(fits []fit) int {
	at, most, twice := -1, 0.0, false
	for i, f := range fits {
		if f.denied != said.denied {
			continue
		}
		score := 0.0
		for _, s := range said.said {
			if slices.Contains(f.said, s) {
				score += 1 / float64(holding(fits, s))
			}
		}
		if score > most {
			at, most, twice = i, score, false
		} else if score == most && score > 0 {
			twice = true
		}
	}
	if at < 0 || twice || 2*shared(said, fits[at]) < len(said.said) {
		return -1
	}
	return at
}

func shared(a, b fit) (n int) {
	for _, s := range a.said {
		if slices.Contains(b.said, s) {
			n++
		}
	}
	return n
}

func holding(fits []fit, what string) (n int) {
	for _, f := range fits {
		if slices.Contains(f.said, what) {
			n++
		}
	}
	return n
}

// only is the one choice that a bare yes, no or done can mean; -1 for none.
func only(fits []fit, said fit) int {
	if said.no && !said.yes {
		return single(fits, func(f fit) bool { return f.no && f.words == 1 },
			func(f fit) bool { return f.no }, func(f fit) bool { return f.denied },
			func(f fit) bool { return slices.Contains(f.said, ideaBad) })
	}
	if !said.yes && len(said.said) == 0 {
		if !said.denied {
			return -1
		}
		return single(fits, func(f fit) bool { return f.denied })
	}
	if len(fits) == 1 {
		return 0
	}
	if said.yes && len(said.said) == 0 {
		return single(fits, func(f fit) bool { return f.yes },
			func(f fit) bool { return slices.Contains(f.said, ideaDone) && !f.denied },
			func(f fit) bool { return len(fits) == 2 && slices.Contains(f.said, ideaGood) && !f.denied },
			func(f fit) bool { return len(fits) == 2 && !f.denied && deniesAny(fits) })
	}
	return single(fits, func(f fit) bool { return slices.Contains(f.said, ideaDone) && !f.denied },
		func(f fit) bool { return len(fits) == 2 && slices.Contains(f.said, ideaGood) && !f.denied })
}

func deniesAny(fits []fit) bool {
	return slices.ContainsFunc(fits, func(f fit) bool { return f.no && len(f.said) == 0 })
}

// single is the only choice for which the first of some tests holds that holds for any.
func single(fits []fit, tests ...func(fit) bool) int {
	for _, is := range tests {
		switch at := slices.IndexFunc(fits, is); {
		case at < 0:
		case slices.ContainsFunc(fits[at+1:], is):
			return -1
		default:
			return at
		}
	}
	return -1
}
