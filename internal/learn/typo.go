package learn

import (
	"math/bits"
	"slices"
)

// Speller mends typing slips against the words the search knows.
type Speller struct {
	known   map[string]bool
	byLen   [][]candidate
	english map[string]bool
}

type candidate struct {
	word    string
	letters uint32 // which of a..z occur
	uses    int
}

const wordLenMax = 24

// Uses counts how often each word is used.
func Uses(words []string) map[string]int {
	uses := map[string]int{}
	for _, w := range words {
		uses[w]++
	}
	return uses
}

// NewSpeller takes the words to mend to, with how often each is used, and words that need no mending.
func NewSpeller(uses map[string]int, english map[string]bool) *Speller {
	sp := &Speller{known: map[string]bool{}, byLen: make([][]candidate, wordLenMax+1), english: english}
	for w, n := range uses {
		sp.known[w] = true
		if len(w) >= 3 && len(w) <= wordLenMax {
			sp.byLen[len(w)] = append(sp.byLen[len(w)], candidate{word: w, letters: letterSet(w), uses: n})
		}
	}
	for _, list := range sp.byLen {
		slices.SortFunc(list, func(a, b candidate) int {
			if a.uses != b.uses {
				return b.uses - a.uses
			}
			if a.word < b.word {
				return -1
			}
			return 1
		})
	}
	return sp
}

// Mend returns the known words most likely meant: the word itself when it is
// known or plain English, else the nearest known one, else two known words
// that were typed as one, else the word as it came.
func (sp *Speller) Mend(w string) []string {
	if len(w) < 4 || len(w) > wordLenMax || sp.known[w] || sp.english[w] {
		return []string{w}
	}
	if sp.english[w+"g"] { // makin, goin
		return []string{w + "g"}
	}
	if near := sp.near(w); near != "" {
		return []string{near}
	}
	for cut := len(w) - 3; cut >= 3; cut-- {
		if sp.known[w[:cut]] && sp.known[w[cut:]] {
			return []string{w[:cut], w[cut:]}
		}
	}
	return []string{w}
}

// near finds the closest known word within one slip, two for long words.
func (sp *Speller) near(w string) string {
	most := 1
	if len(w) >= 7 {
		most = 2
	}
	letters := letterSet(w)
	best, bestScore, bestUses := "", 1<<30, 0
	for n := max(3, len(w)-most); n <= min(wordLenMax, len(w)+most); n++ {
		for _, c := range sp.byLen[n] {
			if bits.OnesCount32(letters^c.letters) > 2*most {
				continue
			}
			d := slips(w, c.word, most)
			if d > most {
				continue
			}
			score := d * 4
			if c.word[0] != w[0] {
				score += 3 // first letters are seldom wrong
			}
			if score < bestScore || score == bestScore && c.uses > bestUses {
				best, bestScore, bestUses = c.word, score, c.uses
			}
		}
	}
	return best
}

func letterSet(w string) uint32 {
	var set uint32
	for i := range len(w) {
		if c := w[i]; c >= 'a' && c <= 'z' {
			set |= 1 << (c - 'a')
		}
	}
	return set
}

// slips counts the letters added, left out, changed or swapped with their
// neighbour between two words (restricted Damerau-Levenshtein distance). It
// gives up with most+1.
func slips(a, b string, most int) int {
	var rows [3][wordLenMax + 2]int
	prev2, prev, cur := &rows[0], &rows[1], &rows[2]
	for j := 0; j <= len(b); j++ {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		low := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			v := min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				v = min(v, prev2[j-2]+1)
			}
			cur[j] = v
			low = min(low, v)
		}
		if low > most {
			return most + 1
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}

// Knows reports whether a word is one to mend to.
func (sp *Speller) Knows(w string) bool { return sp.known[w] }
