package hearing

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/hearing/phrases"
	"shopfloat/internal/wording"
)

// vocabulary is what is known of the words of the phrases that were learnt from.
type vocabulary struct {
	uses  map[string]int  // how often a word is used: slips are mended to those
	kinds map[string]kind // of stems
}

// kind says in what a word stands, by bits. It has to stand there in two phrases, so that
// what is learnt from looks like what is heard: a word of one phrase only is a strange one.
type kind uint8

const (
	inTrade  kind = 1 << iota // in what is asked for
	inTalk                    // in what asks for nothing
	inDanger                  // in dangers
)

// vocabularyOf is that of phrases, and of what they are taken for.
func vocabularyOf(all []phrases.Said, t taught) (vocabulary, error) {
	ideas, err := readIdeas()
	if err != nil {
		return vocabulary{}, err
	}
	v := vocabulary{uses: map[string]int{}, kinds: map[string]kind{}}
	for _, key := range ideas.Phrases() {
		v.use(strings.Fields(key))
	}
	v.use(slices.Collect(maps.Keys(wording.Function)))
	dangers := map[string]int{}
	for _, s := range all {
		for _, p := range s.Phrases {
			if !p.Alarming {
				v.use(wording.Of(p.Text))
			}
			if strings.HasPrefix(s.ID, dangerID) {
				stand(p.Text, dangers)
			}
		}
	}
	trade, small := map[string]int{}, map[string]int{}
	for c, texts := range t.rows {
		in := trade
		if t.ids[c] == None {
			in = small
		}
		for _, text := range texts {
			stand(text, in)
		}
	}
	v.mark(trade, inTrade)
	v.mark(small, inTalk)
	v.mark(dangers, inDanger)
	return v, nil
}

func (v vocabulary) use(words []string) {
	for _, w := range words {
		v.uses[w]++
	}
}

// stand counts the phrases in which each stem stands.
func stand(text string, in map[string]int) {
	row := stemmed(wording.Of(text))
	slices.Sort(row)
	for _, s := range slices.Compact(row) {
		in[s]++
	}
}

func (v vocabulary) mark(in map[string]int, k kind) {
	for s, n := range in {
		if n > 1 {
			v.kinds[s] |= k
		}
	}
}

// text writes a vocabulary: a line for each word and how often it is used, an empty one, and
// a line for each stem and its kinds.
func (v vocabulary) text() []byte {
	var b strings.Builder
	for _, w := range slices.Sorted(maps.Keys(v.uses)) {
		fmt.Fprintf(&b, "%s %d\n", w, v.uses[w])
	}
	b.WriteString("\n")
	for _, s := range slices.Sorted(maps.Keys(v.kinds)) {
		fmt.Fprintf(&b, "%s %d\n", s, v.kinds[s])
	}
	return []byte(b.String())
}

var errVocabulary = errors.New("a vocabulary that cannot be read")

// readVocabulary takes what text wrote.
func readVocabulary(text string) (vocabulary, error) {
	v := vocabulary{uses: map[string]int{}, kinds: map[string]kind{}}
	uses, kinds, ok := strings.Cut(text, "\n\n")
	if !ok {
		return v, errVocabulary
	}
	for line := range strings.Lines(uses) {
		w, n, _ := strings.Cut(strings.TrimSpace(line), " ")
		many, err := strconv.Atoi(n)
		if err != nil {
			return v, errVocabulary
		}
		v.uses[w] = many
	}
	for line := range strings.Lines(kinds) {
		s, n, _ := strings.Cut(strings.TrimSpace(line), " ")
		k, err := strconv.ParseUint(n, 10, 8)
		if err != nil {
			return v, errVocabulary
		}
		v.kinds[s] = kind(k)
	}
	return v, nil
}
