package hearing

import (
	"slices"
	"strconv"

	"shopfloat/internal/learn"
	"shopfloat/internal/wording"
)

// marker turns what is said into marks: what the model counts on.
type marker struct {
	ideas  *wording.Lexicon
	sp     *learn.Speller
	kinds  map[string]kind // of stems
	senses map[string]learn.Sense
}

// asking are the function words that pair with what is said.
var asking = wording.Set(`who when how much many what where why which can
	should not did will is are was we my our i`)

// mended reads words with their slips put right, figures left alone.
func (m *marker) mended(words []string) []string {
	out := make([]string, 0, len(words))
	for _, w := range words {
		if hasDigit(w) {
			out = append(out, w)
			continue
		}
		out = append(out, m.sp.Mend(w)...)
	}
	return out
}

func hasDigit(w string) bool {
	for i := range len(w) {
		if w[i] >= '0' && w[i] <= '9' {
			return true
		}
	}
	return false
}

// marks lists the words, the ideas they stand for, pairs of them, rows of two
// words, and what slots are filled. beside are marks that pair with nothing.
func (m *marker) marks(words, beside []string) []learn.Mark {
	slots := wording.Named(words)
	words = m.mended(words)
	row := stemmed(words)
	found := m.ideas.Find(row)
	ideas := ofAll(nil, "", slots)
	for _, s := range found {
		ideas = append(ideas, learn.Of("@"+s.Kind))
	}
	slices.SortFunc(ideas, byID)
	ideas = slices.Compact(ideas)
	units := slices.Clone(ideas)
	out := ofAll([]learn.Mark{learn.Of("all")}, "%", beside)
	strange := 0
	for i, s := range row {
		switch {
		case hasDigit(s):
			row[i] = "#"
		case wording.Function[words[i]]:
			out = append(out, learn.Of("f:"+s))
		default:
			units = append(units, learn.Of(s))
			if !m.ideas.Knows(s) && !m.sp.Knows(words[i]) {
				strange++
			}
		}
	}
	slices.SortFunc(units, byID)
	units = slices.Compact(units)
	out = append(out, units...)
	out = appendRows(out, row)
	out = appendWhole(out, len(words), strange, len(found))
	out = m.appendKinds(out, words, row)
	out = appendParts(out, words)
	out = m.appendSenses(out, words, row)
	for i, a := range ideas {
		for _, b := range ideas[i+1:] {
			out = append(out, learn.Both(a, b))
		}
	}
	out = appendAsked(out, words, row, units)
	slices.SortFunc(out, byID)
	return slices.Compact(out)
}

func byID(a, b learn.Mark) int {
	switch {
	case a.ID < b.ID:
		return -1
	case a.ID > b.ID:
		return 1
	}
	return 0
}

func ofAll(out []learn.Mark, sign string, list []string) []learn.Mark {
	for _, s := range list {
		out = append(out, learn.Of(sign+s))
	}
	return out
}

// appendRows joins each word to the next, the first to the beginning.
func appendRows(out []learn.Mark, row []string) []learn.Mark {
	last := "^"
	for _, s := range row {
		out = append(out, learn.Of(last+"_"+s))
		last = s
	}
	return append(out, learn.Of(last+"_$"))
}

// partLetters is how much of a word makes a mark of its own, so that forms and
// slips of a word nobody taught us still count.
const partLetters = 4

func appendParts(out []learn.Mark, words []string) []learn.Mark {
	for _, w := range words {
		if wording.Function[w] || hasDigit(w) {
			continue
		}
		w = "<" + w + ">"
		for i := 0; i+partLetters <= len(w); i++ {
			out = append(out, learn.Of("c:"+w[i:i+partLetters]))
		}
	}
	return out
}

// appendWhole marks what is so of the whole.
func appendWhole(out []learn.Mark, words, strange, ideas int) []learn.Mark {
	for _, w := range []struct {
		mark string
		when bool
	}{
		{"?", strange > 0}, {"??", strange > 1}, {"0", ideas == 0}, {"#short", words <= 2}, {"#long", words > 9},
	} {
		if w.when {
			out = append(out, learn.Of(w.mark))
		}
	}
	return out
}

func stemmed(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = learn.Stem(w)
	}
	return out
}

// appendKinds marks how many words are of what is asked for, of small talk only, and of neither.
func (m *marker) appendKinds(out []learn.Mark, words, row []string) []learn.Mark {
	trade, small, strange := 0, 0, 0
	for i, s := range row {
		switch k := m.kinds[s]; {
		case wording.Function[words[i]], s == "#":
		case k&inTrade != 0:
			trade++
		case k&inTalk != 0:
			small++
		default:
			strange++
		}
	}
	a, b, c := "T"+upTo(trade, 5), "C"+upTo(small, 3), "N"+upTo(strange, 3)
	t, s, n := learn.Of(a), learn.Of(b), learn.Of(c)
	return append(out, t, s, n, learn.Both(t, s), learn.Both(t, n), learn.Both(s, n), learn.Of(a+b+c))
}

// upTo writes a number of one digit; all that are no less than the most are one.
func upTo(n, most int) string { return strconv.Itoa(min(n, most)) }

// appendSenses marks what the words are about, and rows of that and of function words: so a word
// that nobody taught us counts like one of its sense.
func (m *marker) appendSenses(out []learn.Mark, words, row []string) []learn.Mark {
	var fields []learn.Mark
	last := "^"
	for i, w := range words {
		unit := row[i]
		var field string
		if out, field = m.appendSense(out, w); field != "" {
			unit = field
			fields = append(fields, learn.Of(field))
		}
		out = append(out, learn.Of("z:"+last+"_"+unit))
		last = unit
	}
	return appendAsked(out, words, row, fields)
}

// appendSense marks what a word is about, and gives the field; empty for a word that says little.
func (m *marker) appendSense(out []learn.Mark, w string) (with []learn.Mark, field string) {
	s, ok := m.senses[w]
	if !ok || wording.Function[w] {
		return out, ""
	}
	field = "F" + strconv.Itoa(s.Field)
	out = append(out, learn.Of(field), learn.Of("S"+strconv.Itoa(s.Sense)), learn.Of("W"+strconv.Itoa(s.Near)))
	return out, field
}

// appendAsked pairs what is said with the words that ask.
func appendAsked(out []learn.Mark, words, row []string, units []learn.Mark) []learn.Mark {
	for i, w := range words {
		if asking[w] {
			a := learn.Of("~" + row[i])
			for _, u := range units {
				out = append(out, learn.Both(a, u))
			}
		}
	}
	return out
}
