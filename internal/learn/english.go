package learn

import (
	_ "embed"
	"strings"
)

// wordsFile has English words grouped by sense, as gen/senses.mjs writes them: blocks of lines are
// fields, lines are senses, and what | parts in a line is nearer still. The first block has no sense.
//
//go:embed words.txt
var wordsFile string

// What stands in the file beside words.
const (
	parting = "|" // between words that are nearer to one another
	grouped = "+" // before a word that is only grouped, and may be a slip
)

// English lists plain English words in small letters, which need no mending.
func English() map[string]bool {
	words := map[string]bool{}
	for w := range strings.FieldsSeq(wordsFile) {
		if w != parting && !strings.HasPrefix(w, grouped) {
			words[w] = true
		}
	}
	return words
}

// Sense is what a word is about, each a number, the wider first: a field, a sense of it, and the
// few words that are nearest.
type Sense struct{ Field, Sense, Near int }

// Senses gives what words are about.
func Senses() map[string]Sense {
	senses := map[string]Sense{}
	var at Sense
	_, rest, _ := strings.Cut(wordsFile, "\n\n")
	for line := range strings.Lines(rest) {
		if line == "\n" {
			at.Field++
			continue
		}
		for w := range strings.FieldsSeq(line) {
			if w == parting {
				at.Near++
				continue
			}
			senses[strings.TrimPrefix(w, grouped)] = at
		}
		at.Sense++
		at.Near++
	}
	return senses
}
