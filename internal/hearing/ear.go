package hearing

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"shopfloat/internal/guides/search"
	"shopfloat/internal/learn"
	"shopfloat/internal/wording"
)

//go:embed data/ideas.txt
var ideasFile string

// Ear hears. It does not change and can be shared.
type Ear struct {
	guard   *guard
	private *wording.Lexicon
	mk      *marker
	model   learn.Model
	warns   learn.Model // knows dangers and nothing else
	ids     []string    // what each class stands for
	find    *search.Index
	words   []Words

	limits Limits
}

// New makes an ear of what was learnt, of the search for guides, and of the
// words of commands. It fails only when the files it comes with cannot be read.
func New(find *search.Index, words []Words) (*Ear, error) {
	e, err := remembered(learntFile, find)
	if err != nil {
		return nil, fmt.Errorf("read what was learnt: %w", err)
	}
	for _, w := range words {
		plain := Words{ID: w.ID}
		for _, said := range w.List {
			plain.List = append(plain.List, strings.Join(wording.Of(said), " "))
		}
		e.words = append(e.words, plain)
	}
	return e, nil
}

// untaught makes an ear that knows words, but not yet what they mean.
func untaught(v vocabulary, find *search.Index) (*Ear, error) {
	e := &Ear{find: find}
	var err error
	if e.guard, err = newGuard(); err != nil {
		return nil, fmt.Errorf("words of danger: %w", err)
	}
	if e.private, err = wording.ReadLexicon(privateFile, wording.Of); err != nil {
		return nil, fmt.Errorf("private words: %w", err)
	}
	ideas, err := readIdeas()
	if err != nil {
		return nil, err
	}
	sp := learn.NewSpeller(v.uses, learn.English())
	e.mk = &marker{ideas: ideas, sp: sp, kinds: v.kinds, senses: learn.Senses()}
	return e, nil
}

func readIdeas() (*wording.Lexicon, error) {
	ideas, err := wording.ReadLexicon(ideasFile, func(s string) []string { return stemmed(wording.Of(s)) })
	if err != nil {
		return nil, fmt.Errorf("ideas: %w", err)
	}
	return ideas, nil
}

// marks of a row of words, with the ideas of what goes wrong at a machine.
func (e *Ear) marks(words []string) []learn.Mark {
	return e.mk.marks(words, e.find.Ideas(strings.Join(words, " ")))
}

// doubted is how much what likeness says of a guide counts where the search for guides takes
// a text for none of its own.
const doubted = 0.1

// likely gives what a row of words may mean by likeness, best first.
func (e *Ear) likely(words []string) []Reading {
	p := e.model.Chances(e.marks(words))
	out := make([]Reading, len(p))
	guides := 0.0
	for i, id := range e.ids {
		out[i] = Reading{Kind: Guide, ID: id, Sure: p[i]}
		if out[i].Kind, out[i].ID = kindOf(id); out[i].Kind == Guide {
			guides += p[i]
		}
	}
	chances, about := e.find.Chances(strings.Join(words, " "))
	for i := range out {
		if out[i].Kind != Guide {
			continue
		}
		own := 0.0
		for _, c := range chances {
			if c.ID == out[i].ID {
				own = c.Sure
			}
		}
		out[i].Sure = max(guides*own, (out[i].Sure+guides*own)/2)
		if about < search.AnyMin {
			out[i].Sure *= doubted
		}
	}
	slices.SortStableFunc(out, surest)
	return out
}

func surest(a, b Reading) int {
	switch {
	case a.Sure > b.Sure:
		return -1
	case a.Sure < b.Sure:
		return 1
	}
	return 0
}

// kindOf reads the name of a class.
func kindOf(name string) (Kind, string) {
	if id, ok := strings.CutPrefix(name, commandID); ok {
		return Command, id
	}
	if id, ok := strings.CutPrefix(name, dangerID); ok {
		return Danger, id
	}
	if name == None {
		return Small, ""
	}
	return Guide, name
}

// Hear gives what a text may mean, best first. A danger comes first.
func (e *Ear) Hear(text string, sit Situation) []Reading {
	all := e.heard(text)
	out := make([]Reading, 0, len(all)+2)
	d := e.present(text, sit)
	if d != "" {
		out = append(out, Reading{Kind: Danger, ID: d, Sure: 1})
	}
	all = slices.DeleteFunc(all, isDanger)
	if countsIn(text, sit.Counts) != nil {
		all = counted(all)
	}
	if d == "" && e.guard.machineRobs(text, sit.Names) {
		all = slices.DeleteFunc(all, func(r Reading) bool { return r.Kind == Guide && r.ID == Robbery })
	}
	if d == "" && e.guard.past(text, sit.Names) {
		out, all = append(out, theft...), slices.DeleteFunc(all, isTheft)
	}
	if id := e.command(text); id != "" {
		out = append(out, Reading{Kind: Command, ID: id, Sure: 1, Word: true})
		all = slices.DeleteFunc(all, func(r Reading) bool { return r.Kind == Command && r.ID == id })
	}
	return append(out, all...)
}

// countedSeldom is what is left of the guide that says how to add notes where notes are
// told by kind: they are added already.
const countedSeldom = 0.2

func counted(all []Reading) []Reading {
	for i := range all {
		if all[i].Kind == Guide && all[i].ID == "top-up" {
			all[i].Sure *= countedSeldom
		}
	}
	slices.SortStableFunc(all, surest)
	return all
}

// command gives the command whose own words a text is, with figures and courtesy
// around them at most.
func (e *Ear) command(text string) string {
	words := wording.Of(text)
	words = slices.DeleteFunc(wording.Unpolite(words), hasDigit)
	said := strings.Join(words, " ")
	for _, c := range e.words {
		if slices.Contains(c.List, said) {
			return c.ID
		}
	}
	return ""
}

// theft is what is meant by money taken in the past: the count does not fit. The
// guide for a robbery stands beside it, for whoever is in danger after all.
var theft = []Reading{{Kind: Guide, ID: "count-mismatch", Sure: 0.5}, {Kind: Guide, ID: Robbery, Sure: 0.4}}

func isTheft(r Reading) bool {
	return slices.ContainsFunc(theft, func(t Reading) bool { return r.Kind == t.Kind && r.ID == t.ID })
}

func isDanger(r Reading) bool { return r.Kind == Danger }

// isName reports whether a text looks like a name and nothing else.
func isName(text string) bool {
	words := wording.Of(text)
	return len(words) <= 3 && !slices.ContainsFunc(words, func(w string) bool {
		return wording.Function[w] || hasDigit(w)
	})
}

// heard looks at the whole and at each clause; the surest that asks for
// something counts.
func (e *Ear) heard(text string) []Reading {
	clauses := wording.Clauses(text)
	if len(clauses) == 0 {
		return nil
	}
	var all []string
	for _, c := range clauses {
		all = append(all, c.Words...)
	}
	best := e.likely(wording.Unpolite(all))
	for _, c := range clauses {
		if len(clauses) == 1 {
			break
		}
		if wording.OnlyPolite(c.Words) {
			continue
		}
		if r := e.likely(wording.Unpolite(c.Words)); asks(r) > asks(best) {
			best = r
		}
	}
	return best
}

// asks is how sure the best reading that asks for something is.
func asks(list []Reading) float64 {
	for _, r := range list {
		if r.Kind != Small {
			return r.Sure
		}
	}
	return 0
}
