// Package search finds the guide for a question in a person's own words:
// typing slips, plurals, shop slang and broken English included.
package search

import (
	"cmp"
	"slices"
	"strings"
)

// Topic is a guide and what people say when they need it.
type Topic struct {
	ID    string
	Asked []string
}

// Answer is what a question comes to.
var anyMin = 0.5

type Answer struct {
	// IDs are the topics that may be meant, best first, at most three.
	// None when nothing is close.
	IDs []string
	// Clear says that the first of IDs can be started without asking back.
	Clear bool
}

// Index answers questions. It does not change and can be shared.
type Index struct {
	topics []string
	rd     reader
	m      model
}

const (
	answersMax = 3
	clearMin   = 0.55 // chance from which the first topic is started at once
	offerMin   = 0.03 // chance from which another topic is offered

)

// New learns from what is said for each topic and from chatter about nothing
// of it. It fails only when the lists it comes with cannot be read.
func New(topics []Topic) (*Index, error) {
	lx, err := readLexicon(conceptsFile, wordsFile)
	if err != nil {
		return nil, err
	}
	chatter := Topic{Asked: strings.Split(strings.TrimSpace(string(chatterFile)), "\n")}
	all := append(slices.Clone(topics), chatter)
	ix := &Index{}
	for _, t := range topics {
		ix.topics = append(ix.topics, t.ID)
	}
	words := slices.Clone(lx.surfaces)
	seen := map[string]int{}
	for _, t := range all {
		for _, phrase := range t.Asked {
			row := content(tokens(phrase))
			words = append(words, row...)
			for _, s := range distinct(stems(row)) {
				seen[s]++
			}
		}
	}
	ix.rd = reader{lx: lx, sp: newSpeller(words, lx.english), common: map[string]bool{}}
	for s, n := range seen {
		if n > 1 {
			ix.rd.common[s] = true
		}
	}
	ix.learn(all)
	return ix, nil
}

func distinct(row []string) []string {
	slices.Sort(row)
	return slices.Compact(row)
}

func (ix *Index) learn(all []Topic) {
	var rows [][]string
	var classes []int
	uses := map[string]int{}
	for c, t := range all {
		for _, phrase := range t.Asked {
			marks := ix.rd.read(phrase).marks
			for _, s := range marks {
				uses[s]++
			}
			rows, classes = append(rows, marks), append(classes, c)
		}
	}
	ix.m = model{ids: map[string]int{}, classes: len(all)}
	for _, row := range rows {
		for _, s := range row {
			if _, ok := ix.m.ids[s]; !ok && uses[s] > 1 {
				ix.m.ids[s] = len(ix.m.ids)
			}
		}
	}
	ix.m.w = make([]float64, len(ix.m.ids)*len(all))
	var examples []example
	for i, row := range rows {
		examples = append(examples, example{marks: ix.m.number(row), class: classes[i]})
	}
	ix.m.learn(examples)
}

type chance struct {
	topic int
	p     float64
}

func (ix *Index) ranked(marks []string) []chance {
	p := make([]float64, ix.m.classes)
	ix.m.chances(ix.m.number(marks), p)
	out := make([]chance, len(p))
	for c := range p {
		out[c] = chance{topic: c, p: p[c]}
	}
	slices.SortStableFunc(out, func(a, b chance) int { return cmp.Compare(b.p, a.p) })
	return out
}

// Search finds the topics a text is about.
func (ix *Index) Search(text string) Answer {
	var a Answer
	said := ix.rd.read(text)
	any := 0.0
	if !said.pointed {
		return Answer{}
	}
	for _, c := range ix.ranked(said.marks) {
		if c.topic == len(ix.topics) {
			any = 1 - c.p
			continue
		}
		if len(a.IDs) == answersMax || len(a.IDs) > 0 && c.p < offerMin {
			continue
		}
		if len(a.IDs) == 0 {
			a.Clear = c.p >= clearMin
		}
		a.IDs = append(a.IDs, ix.topics[c.topic])
	}
	if any < anyMin {
		return Answer{}
	}
	return a
}
