// Package search finds the guide for a question in a person's own words:
// typing slips, plurals, shop slang and broken English included.
package search

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"shopfloat/internal/learn"
)

// Topic is a guide and what people say when they need it.
type Topic struct {
	ID    string
	Asked []string
}

// Answer is what a question comes to.
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
	m      learn.Model
}

// Chosen on the development questions; see SEARCH.md.
const (
	answersMax = 3
	clearMin   = 0.55 // chance from which the first topic is started at once
	offerMin   = 0.01 // chance from which another topic is offered
)

// AnyMin is the chance that a text is about any topic, below which there is no answer. Chosen on
// the development questions, like the others.
const AnyMin = 0.45

// New learns from what is said for each topic and from chatter about none of
// them; what was learnt from the guides that the program comes with is kept. It
// fails only when the lists it comes with cannot be read.
func New(topics []Topic) (*Index, error) {
	ix, all, err := untaught(topics)
	if err != nil {
		return nil, err
	}
	m, known, err := remembered(learntFile, all)
	if err != nil {
		return nil, err
	}
	if ix.m = m; !known {
		ix.learn(all)
	}
	return ix, nil
}

// untaught makes an index that reads, but does not know yet what is meant; and
// gives all that it is to learn from.
func untaught(topics []Topic) (*Index, []Topic, error) {
	lx, err := readLexicon(conceptsFile, learn.English())
	if err != nil {
		return nil, nil, err
	}
	ix := &Index{}
	for _, t := range topics {
		ix.topics = append(ix.topics, t.ID)
	}
	all := append(slices.Clone(topics), Topic{Asked: Chatter()})
	ix.rd = newReader(lx, all)
	return ix, all, nil
}

// newReader collects the words of the phrases: those it may mend a typing
// slip to, and those frequent enough to learn from.
func newReader(lx *lexicon, all []Topic) reader {
	words := append(slices.Clone(lx.surfaces), fillers...)
	words = slices.AppendSeq(words, maps.Keys(longForms))
	seen := map[string]int{}
	for _, t := range all {
		for _, phrase := range t.Asked {
			row := content(tokens(phrase))
			words = append(words, row...)
			row = stems(row)
			slices.Sort(row)
			for _, s := range slices.Compact(row) {
				seen[s]++
			}
		}
	}
	rd := reader{lx: lx, sp: learn.NewSpeller(learn.Uses(words), lx.english), common: map[string]bool{}}
	for s, n := range seen {
		rd.common[s] = n > 1
	}
	return rd
}

func (ix *Index) learn(all []Topic) {
	var rows []learn.Example
	for c, t := range all {
		for _, phrase := range t.Asked {
			rows = append(rows, learn.Example{Marks: marksOf(ix.rd.read(phrase).marks), Class: c})
		}
	}
	ix.m = learn.New(rows, len(all))
}

// Search finds the topics a text is about.
func (ix *Index) Search(text string) Answer {
	said := ix.rd.read(text)
	if !said.pointed {
		return Answer{}
	}
	p := ix.m.Chances(marksOf(said.marks))
	chatter := len(ix.topics)
	if 1-p[chatter] < AnyMin {
		return Answer{}
	}
	order := make([]int, len(ix.topics))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[b], p[a]) })
	var a Answer
	for i, topic := range order[:min(answersMax, len(order))] {
		if i == 0 || p[topic] >= offerMin {
			a.IDs = append(a.IDs, ix.topics[topic])
		}
	}
	a.Clear = len(order) > 0 && p[order[0]] >= clearMin
	return a
}

// Chance is how likely a topic is meant.
type Chance struct {
	ID   string
	Sure float64
}

// Chances gives how likely each topic is meant, if any is, best first: those
// that might be offered; and how likely a text is about any.
func (ix *Index) Chances(text string) (list []Chance, any float64) {
	said := ix.rd.read(text)
	p := ix.m.Chances(marksOf(said.marks))
	about := 1 - p[len(ix.topics)]
	var out []Chance
	for i, id := range ix.topics {
		if sure := p[i] / about; sure >= offerMin {
			out = append(out, Chance{id, sure})
		}
	}
	slices.SortStableFunc(out, func(a, b Chance) int { return cmp.Compare(b.Sure, a.Sure) })
	if !said.pointed {
		about = 0
	}
	return out, about
}

// Chatter lists phrases that are about no topic.
func Chatter() []string { return strings.Split(strings.TrimSpace(string(chatterFile)), "\n") }

// Ideas lists what a text is about, in the words of the list of ideas, and
// "got-more" or "got-less" where it compares two sums.
func (ix *Index) Ideas(text string) []string {
	words := ix.rd.words(text)
	var out []string
	for _, id := range ix.rd.ideas(stems(content(words)), words) {
		out = append(out, id.name)
	}
	if m := askedGot(text); m != "" {
		out = append(out, m)
	}
	return out
}
