package learn

import (
	_ "embed"
	"strings"
)

//go:embed words.txt
var englishFile string

// English lists plain English words in small letters, which need no mending.
func English() map[string]bool {
	words := map[string]bool{}
	for w := range strings.FieldsSeq(englishFile) {
		words[w] = true
	}
	return words
}
