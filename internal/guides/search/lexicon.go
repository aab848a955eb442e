package search

import (
	"bytes"
	_ "embed"
	"fmt"
	"slices"
	"strings"
)

//go:embed data/concepts.txt
var conceptsFile []byte

//go:embed data/chatter.txt
var chatterFile []byte

//go:embed data/words.txt
var wordsFile []byte

// lexicon knows which words mean the same idea, and which are English at all.
type lexicon struct {
	ideas    map[string][]string // phrase of stems joined by a space, to ideas
	same     map[string]bool     // stems that say no more than their idea
	weak     map[string]bool     // ideas that alone do not point at a guide
	longest  int                 // words in the longest phrase
	surfaces []string            // words as written in the lists, for mending typing slips
	english  map[string]bool
}

// readLexicon reads the list of ideas. A line is "idea: word, two words"; a
// line that begins with a space goes on with the line above. "=idea" says that its
// single words are interchangeable, so that the search forgets which it was.
func readLexicon(ideas, english []byte) (*lexicon, error) {
	lx := &lexicon{ideas: map[string][]string{}, same: map[string]bool{}, weak: map[string]bool{}, english: map[string]bool{}}
	for w := range strings.FieldsSeq(string(english)) {
		lx.english[w] = true
	}
	idea := ""
	for i, raw := range bytes.Split(ideas, []byte("\n")) {
		line := string(raw)
		if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if !strings.HasPrefix(line, " ") {
			name, rest, ok := strings.Cut(line, ":")
			if !ok {
				return nil, fmt.Errorf("ideas:%d: expected \"idea: words\", found %q", i+1, line)
			}
			idea, line = name, rest
		}
		for phrase := range strings.SplitSeq(line, ",") {
			lx.add(idea, phrase)
		}
	}
	return lx, nil
}

func (lx *lexicon) add(idea, phrase string) {
	idea, weak := strings.CutPrefix(idea, "~")
	idea, same := strings.CutPrefix(idea, "=")
	if weak || strings.HasPrefix(idea, "x-") {
		lx.weak[idea] = true
	}
	words := tokens(phrase)
	if len(words) > 1 {
		words = content(words)
	}
	if len(words) == 0 {
		return
	}
	lx.surfaces = append(lx.surfaces, words...)
	key := strings.Join(stems(words), " ")
	if !slices.Contains(lx.ideas[key], idea) {
		lx.ideas[key] = append(lx.ideas[key], idea)
	}
	if same && len(words) == 1 {
		lx.same[key] = true
	}
	lx.longest = max(lx.longest, len(words))
}

func stems(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = stem(w)
	}
	return out
}

// find lists the ideas in a row of stems, each once, in order of appearance.
func (lx *lexicon) find(row []string) []string {
	var out []string
	for i := range row {
		for n := 1; n <= lx.longest && i+n <= len(row); n++ {
			for _, idea := range lx.ideas[strings.Join(row[i:i+n], " ")] {
				if !slices.Contains(out, idea) {
					out = append(out, idea)
				}
			}
		}
	}
	return out
}
