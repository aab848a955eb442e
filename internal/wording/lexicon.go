package wording

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"
)

// Lexicon knows what kinds of thing words and phrases stand for.
type Lexicon struct {
	kinds   map[string][]string // phrase, its words joined by a space, to kinds
	longest map[string]int      // words in the longest phrase that begins with a word
	written []string            // scripts without blanks between words: looked for as they are
}

// Span is a phrase that was found: what it stands for, and where.
type Span struct {
	Kind     string
	From, To int
}

// ReadLexicon reads lines "kind: word, two words"; a line that begins with a
// blank goes on with the one above. form makes words of a phrase.
func ReadLexicon(file string, form func(string) []string) (*Lexicon, error) {
	lx := &Lexicon{kinds: map[string][]string{}, longest: map[string]int{}}
	kind, at := "", 0
	for line := range strings.SplitSeq(file, "\n") {
		at++
		if strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if !strings.HasPrefix(line, " ") {
			head, rest, ok := strings.Cut(line, ":")
			if !ok {
				return nil, fmt.Errorf("line %d: expected \"kind: words\", found %q", at, line)
			}
			kind, line = strings.TrimSpace(head), rest
		}
		if kind == "" {
			return nil, fmt.Errorf("line %d: words of no kind", at)
		}
		for phrase := range strings.SplitSeq(line, ",") {
			lx.add(kind, phrase, form(phrase))
		}
	}
	return lx, nil
}

func (lx *Lexicon) add(kind, phrase string, words []string) {
	if len(words) == 0 {
		return
	}
	if phrase = strings.TrimSpace(phrase); strings.ContainsFunc(phrase, isHan) {
		words = []string{phrase}
		lx.written = append(lx.written, phrase)
	}
	key := strings.Join(words, " ")
	if !slices.Contains(lx.kinds[key], kind) {
		lx.kinds[key] = append(lx.kinds[key], kind)
	}
	first, rest, _ := strings.Cut(key, " ")
	lx.longest[first] = max(lx.longest[first], 1+len(strings.Fields(rest)))
}

func isHan(r rune) bool { return unicode.Is(unicode.Han, r) }

// Find lists the phrases in a row of words, longest first at each place.
func (lx *Lexicon) Find(words []string) []Span {
	var out []Span
	for i := range words {
		first, _, _ := strings.Cut(words[i], " ")
		for n := min(lx.longest[first], len(words)-i); n > 0; n-- {
			key := words[i]
			if n > 1 {
				key = strings.Join(words[i:i+n], " ")
			}
			for _, kind := range lx.kinds[key] {
				out = append(out, Span{Kind: kind, From: i, To: i + n})
			}
		}
		if len(lx.written) > 0 && strings.ContainsFunc(words[i], isHan) {
			for _, w := range lx.written {
				if w != words[i] && strings.Contains(words[i], w) {
					for _, kind := range lx.kinds[w] {
						out = append(out, Span{Kind: kind, From: i, To: i + 1})
					}
				}
			}
		}
	}
	return out
}

// Has reports whether one of a kind was found.
func Has(spans []Span, kind string) bool {
	return slices.ContainsFunc(spans, func(s Span) bool { return s.Kind == kind })
}

// Phrases are all that are known, in no order.
func (lx *Lexicon) Phrases() []string { return slices.Collect(maps.Keys(lx.kinds)) }

// Knows reports whether a phrase, its words joined by a space, is one of them.
func (lx *Lexicon) Knows(phrase string) bool { return len(lx.kinds[phrase]) > 0 }
