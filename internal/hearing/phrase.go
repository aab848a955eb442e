package hearing

import (
	_ "embed"
	"slices"
	"strings"
	"unicode"

	"shopfloat/internal/wording"
)

// What people of a shop say in words of their own can be given a meaning there. Such a
// phrase is known by its plain form. It is heard behind dangers and the words of commands,
// and before likeness; of a count it says nothing.

//go:embed data/private.txt
var privateFile string

// Bounds of what is kept of a text.
const (
	phraseBytesMax = 80
	phraseWordsMax = 12
)

// Phrase is the plain form in which a text is kept that was not understood, without figures
// and courtesy. It is empty for what is never kept: what tells of people, illness, theft or
// danger, what holds a name or a count, and what is long.
func (e *Ear) Phrase(text string, sit Situation) string {
	if named(text) || countsIn(text, sit.Counts) != nil || OnlyFigures(text) || e.guard.alarming(text) ||
		e.guard.past(text, sit.Names) || e.present(text, sit) != "" {
		return ""
	}
	words := wording.Of(text)
	if len(nameless(words, sit.Names)) < len(words) || len(e.private.Find(words)) > 0 ||
		len(words) > phraseWordsMax || wording.OnlyPolite(words) {
		return ""
	}
	said := strings.Join(slices.DeleteFunc(wording.Unpolite(words), hasDigit), " ")
	if len(said) > phraseBytesMax || len([]rune(said)) < 2 {
		return ""
	}
	return said
}

// harmless are the kinds of words of danger that are heard in everyday sentences, too.
var harmless = []string{"somebody", "machine", "now", "place", "pronoun", "over", "false", "gone", "unreal",
	"supposing", "complain", "contact"}

// alarming reports whether a text has a word of danger, whatever else it says.
func (g *guard) alarming(text string) bool {
	return slices.ContainsFunc(g.lx.Find(wording.Of(text)), func(s wording.Span) bool {
		return !slices.Contains(harmless, s.Kind)
	})
}

// named reports whether a word within a text is written as names are.
func named(text string) bool {
	for _, piece := range wording.Pieces(text) {
		for i, w := range strings.Fields(piece) {
			letters := strings.TrimFunc(w, func(r rune) bool { return !unicode.IsLetter(r) })
			first, rest := firstOf(letters)
			if i > 0 && unicode.IsUpper(first) && rest != "" && rest == strings.ToLower(rest) &&
				!wording.Dated(strings.ToLower(letters)) && !strings.ContainsAny(letters, "'’") {
				return true
			}
		}
	}
	return false
}

func firstOf(w string) (first rune, rest string) {
	for i, r := range w {
		if i == 0 {
			first = r
			continue
		}
		return first, w[i:]
	}
	return first, ""
}

// taught is what the shop says that a text means, as a decision; ok is false where it says
// nothing of it.
func (e *Ear) taught(text string, sit Situation, heard []Reading) (list []Reading, ok bool) {
	if sit.Taught == nil || len(heard) > 0 && (heard[0].Kind == Danger || heard[0].Word) {
		return heard, false
	}
	said := e.Phrase(text, sit)
	if said == "" {
		return heard, false
	}
	means := sit.Taught(said)
	if means == "" {
		return heard, false
	}
	r := Reading{Sure: 1, Word: true}
	if r.Kind, r.ID = kindOf(means); r.Kind == Danger || r.Kind == Guide && r.ID == Robbery {
		return heard, false
	}
	if r.Kind == Small {
		return nil, true
	}
	heard = slices.DeleteFunc(heard, func(h Reading) bool { return h.Kind == r.Kind && h.ID == r.ID })
	return slices.Insert(heard, 0, r), true
}

// CommandName is the name of the reading of a command.
func CommandName(id string) string { return commandID + id }

// Carries gives the command of the chat that a reading is done by, or the guide.
func Carries(name string) (id string, command bool) {
	kind, id := kindOf(name)
	if by, other := carriedBy[id]; kind == Command && other {
		id = by[0]
	}
	return id, kind == Command
}

// nearest is how many readings are given of what was not understood.
const nearest = 4

// Near gives what a text is nearest to, dangers apart: what it may be taught to mean.
func (e *Ear) Near(text string, sit Situation) []string {
	list := slices.DeleteFunc(e.Hear(text, sit), func(r Reading) bool {
		return r.Kind == Danger || r.Kind == Small || r.Kind == Guide && r.ID == Robbery
	})
	return Decision{Readings: list[:min(len(list), nearest)]}.Names()
}
