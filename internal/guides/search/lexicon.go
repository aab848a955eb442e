package search

import (
	"bytes"
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"shopfloat/internal/learn"
)

//go:embed data/concepts.txt
var conceptsFile []byte

//go:embed data/chatter.txt
var chatterFile []byte

// lexicon knows which words mean the same idea, and which are English at all.
type lexicon struct {
	ideas    map[string][]*idea // phrase of stems joined by a space, to ideas
	longest  map[string]int     // words in the longest phrase that begins with a stem
	surfaces []string           // words as written in the lists, for mending typing slips
	english  map[string]bool
}

// idea is something people mean, whatever word they use for it.
type idea struct {
	name    string
	same    bool // its single words are interchangeable: forget which it was
	thing   bool // names a part of the machine, or its money
	weak    bool // alone it does not point at a guide
	foreign bool // has nothing to do with the machine
}

// readLexicon reads the list of ideas. A line is "idea [flags]: word, two
// words"; a line that begins with a space goes on with the line above.
func readLexicon(ideas []byte, english map[string]bool) (*lexicon, error) {
	lx := &lexicon{ideas: map[string][]*idea{}, longest: map[string]int{}, english: english}
	var at *idea
	for i, raw := range bytes.Split(ideas, []byte("\n")) {
		line := string(raw)
		if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if !strings.HasPrefix(line, " ") {
			head, words, ok := strings.Cut(line, ":")
			if !ok {
				return nil, fmt.Errorf("ideas:%d: expected \"idea: words\", found %q", i+1, line)
			}
			var err error
			if at, err = newIdea(head); err != nil {
				return nil, fmt.Errorf("ideas:%d: %w", i+1, err)
			}
			line = words
		}
		if at == nil {
			return nil, fmt.Errorf("ideas:%d: words without an idea", i+1)
		}
		for phrase := range strings.SplitSeq(line, ",") {
			lx.add(at, phrase)
		}
	}
	return lx, nil
}

func newIdea(head string) (*idea, error) {
	name, flags, _ := strings.Cut(strings.TrimSuffix(head, "]"), "[")
	id := &idea{name: strings.TrimSpace(name)}
	for f := range strings.FieldsSeq(flags) {
		switch f {
		case "same":
			id.same = true
		case "thing":
			id.thing = true
		case "weak":
			id.weak = true
		case "foreign":
			id.foreign = true
		default:
			return nil, fmt.Errorf("flag %q is not known", f)
		}
	}
	return id, nil
}

func (lx *lexicon) add(id *idea, phrase string) {
	words := tokens(phrase)
	if c := content(words); len(c) > 1 {
		words = c
	}
	if len(words) == 0 {
		return
	}
	lx.surfaces = append(lx.surfaces, words...)
	row := stems(words)
	key := strings.Join(row, " ")
	if !slices.Contains(lx.ideas[key], id) {
		lx.ideas[key] = append(lx.ideas[key], id)
	}
	lx.longest[row[0]] = max(lx.longest[row[0]], len(row))
}

func stems(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = learn.Stem(w)
	}
	return out
}

// forgets says whether a stem tells no more than its idea.
func (lx *lexicon) forgets(s string) bool {
	return slices.ContainsFunc(lx.ideas[s], func(id *idea) bool { return id.same })
}

// find adds the ideas in a row of stems to those found, each once.
func (lx *lexicon) find(row []string, out []*idea) []*idea {
	for i := range row {
		for n := 1; n <= lx.longest[row[i]] && i+n <= len(row); n++ {
			for _, id := range lx.ideas[strings.Join(row[i:i+n], " ")] {
				if !slices.Contains(out, id) {
					out = append(out, id)
				}
			}
		}
	}
	return out
}
