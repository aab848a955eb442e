// Package names keeps people apart by what they are called. A name has one
// normal form, two names that look the same are the same, and what a stranger
// chose to be called is shown so that it cannot pass for anything else.
package names

import (
	"errors"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/mtibben/confusables"
	"golang.org/x/text/cases"
	"golang.org/x/text/secure/precis"
	"golang.org/x/text/unicode/norm"
)

// What is wrong with a name.
var (
	ErrEmpty  = errors.New("nothing of the name can be seen")
	ErrSigns  = errors.New("a person's name is letters, figures and a few signs")
	ErrMixed  = errors.New("a word of the name is in two alphabets")
	ErrFormat = errors.New("the name has signs that no name has")
	ErrCount  = errors.New("the name reads like a count of notes")
)

// Person gives a person's name its one normal form: letters, their marks,
// figures, and the signs names are written with. What cannot be seen is left out.
func Person(typed string) (string, error) {
	name, err := form(typed)
	if err != nil {
		return "", err
	}
	letters := false
	for _, r := range name {
		letters = letters || unicode.IsLetter(r)
		if !unicode.IsLetter(r) && !unicode.IsMark(r) && !unicode.IsDigit(r) &&
			!strings.ContainsRune(" -'’.·", r) {
			return "", ErrSigns
		}
	}
	if !letters {
		return "", ErrEmpty
	}
	return name, mixed(name)
}

// Place gives the name of a shop or a machine its one normal form. It may have
// any sign that can be seen.
func Place(typed string) (string, error) {
	name, err := form(typed)
	if err != nil {
		return "", err
	}
	if !strings.ContainsFunc(name, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) {
		return "", ErrEmpty
	}
	return name, mixed(name)
}

// Machine gives the name of a machine its form. One that is figures alone would be read as a
// count wherever a machine may be named: 10 20, 50s, 20x5.
func Machine(typed string) (string, error) {
	name, err := Place(typed)
	if err == nil && count.MatchString(name) {
		return "", ErrCount
	}
	return name, err
}

// count is figures, with the letters that counts are written with behind them.
var count = regexp.MustCompile(`(?i)^(?:\PL|\d['’]?s\b|\d *x *\d|\d *x\b|\dk\b)+$`)

// form is the form of RFC 8266 (PRECIS, profile Nickname: compatibility forms
// made one, spaces made one, controls refused), of what can be seen.
func form(typed string) (string, error) {
	seen := Seen(typed)
	if seen == "" {
		return "", ErrEmpty
	}
	name, err := precis.Nickname.String(seen)
	if err != nil {
		return "", ErrFormat
	}
	return name, nil
}

// Seen is a text in one line without anything that cannot be seen: controls,
// signs that turn or join what stands beside them, private and unassigned ones,
// letters that only fill a place, and marks beyond two on a letter.
func Seen(s string) string {
	marks := 0
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) || unicode.IsControl(r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r):
			marks = 0
			return ' '
		case r == utf8.RuneError || !unicode.In(r, unicode.L, unicode.M, unicode.N, unicode.P, unicode.S) ||
			unicode.Is(unicode.Other_Default_Ignorable_Code_Point, r) || unicode.Is(unicode.Variation_Selector, r) ||
			unicode.Is(unicode.Me, r) || r == '\u2800':
			return -1
		case unicode.Is(unicode.Mn, r):
			if marks++; marks > marksMax {
				return -1
			}
		default:
			marks = 0
		}
		return r
	}, s)), " ")
}

// referenceMax bounds a bank's reference, in letters: ISO 20022 has 35 (from memory).
const referenceMax = 35

// Reference is a bank's reference in one line without anything that cannot be seen,
// and no longer than banks make them.
func Reference(s string) string {
	r := []rune(Seen(s))
	return strings.TrimSpace(string(r[:min(len(r), referenceMax)]))
}

// Clean is a text of one or more lines without signs that steer and cannot be seen:
// controls but the end of a line, and all that turn, join or hide what stands beside
// them. It is for everything that people type, and for everything that goes out.
func Clean(s string) string {
	plain := true // nearly everything is
	for i := 0; i < len(s) && plain; i++ {
		plain = s[i] >= ' ' && s[i] < 0x7f || s[i] == '\n'
	}
	if plain {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\u2028' || r == '\u2029':
			return ' '
		case steers(r):
			return -1
		}
		return r
	}, s)
}

// steers reports whether a sign is one of those. The isolates of [Quoted] are none.
func steers(r rune) bool {
	switch {
	case r == '\n' || r == '\u2068' || r == '\u2069' || r >= ' ' && r < 0x7f:
		return false
	case r < 0xa0:
		return true
	}
	return unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co) || r == '\u115f' || r == '\u3164'
}

// marksMax is how many marks a letter may have: no living script needs more
// once letters are composed, and towers of them cover the lines around.
const marksMax = 2

// twins are the alphabets whose letters pass for one another.
var twins = []*unicode.RangeTable{unicode.Latin, unicode.Cyrillic, unicode.Greek, unicode.Armenian,
	unicode.Cherokee}

// mixed refuses a word whose letters are of two alphabets that pass for one
// another (UTS 39, mixed-script detection, for the alphabets that matter here).
func mixed(name string) error {
	for _, word := range strings.FieldsFunc(name, func(r rune) bool {
		return !unicode.IsLetter(r) &&
			!unicode.IsMark(r)
	}) {
		found := 0
		for _, t := range twins {
			if strings.ContainsFunc(word, func(r rune) bool { return unicode.Is(t, r) }) {
				found++
			}
		}
		if found > 1 {
			return ErrMixed
		}
	}
	return nil
}

// Same reports whether two names would be taken for one another: their
// skeletons are equal (UTS 39, section 4), with or without regard to case, and
// spaces, hyphens and points do not count.
func Same(a, b string) bool {
	a, b = bare(a), bare(b)
	if a == "" || b == "" {
		return false
	}
	fold := cases.Fold()
	return skeleton(a) == skeleton(b) || skeleton(fold.String(a)) == skeleton(fold.String(b)) ||
		fold.String(skeleton(a)) == fold.String(skeleton(b))
}

// Unaccented is a name as people type it who leave accents out.
func Unaccented(s string) string {
	s = strings.NewReplacer("ß", "ss", "æ", "ae", "œ", "oe", "ø", "o", "đ", "d", "ł", "l", "ı", "i").
		Replace(strings.ToLower(s))
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFD.String(s))
}

func skeleton(s string) string { return norm.NFD.String(confusables.Skeleton(s)) }

// bare is a name in its form without what is not a letter or a figure.
func bare(s string) string {
	if f, err := form(s); err == nil {
		s = f
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsNumber(r) {
			return r
		}
		return -1
	}, s)
}

// Bounds of what is shown of a name, and of a sentence, that somebody else chose, in
// letters.
const (
	quotedMax = 64
	wordsMax  = 400
)

// Quoted shows what somebody else chose to be called, or wrote: in one line,
// between quotation marks that do not occur inside, without anything that
// cannot be seen. It is empty when nothing is left.
func Quoted(s string) string { return quoted(s, quotedMax) }

// Words shows in the same way what somebody typed as a reason or a note.
func Words(s string) string { return quoted(s, wordsMax) }

func quoted(s string, most int) string {
	s = strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Quotation_Mark, r) && r != '\'' && r != '’' {
			return '\''
		}
		return r
	}, Seen(s)))
	if s == "" {
		return ""
	}
	if r := []rune(s); len(r) > most {
		s = string(r[:most-1]) + "…"
	}
	// The isolates keep letters that run from right to left from turning the sentence around them
	// (Unicode Bidirectional Algorithm, UAX 9, first strong isolate).
	if strings.ContainsFunc(s, rightToLeft) {
		s = "\u2068" + s + "\u2069"
	}
	return "“" + s + "”"
}

func rightToLeft(r rune) bool {
	return unicode.In(r, unicode.Arabic, unicode.Hebrew, unicode.Syriac, unicode.Thaana, unicode.Nko)
}

// Formula reports whether a table program would take a text for a formula, in
// whatever width its first sign is written.
func Formula(s string) bool {
	for _, r := range norm.NFKC.String(strings.TrimLeftFunc(s, func(r rune) bool {
		return unicode.IsSpace(r) || unicode.In(r, unicode.Cf, unicode.Cc)
	})) {
		return strings.ContainsRune("=+-@\t\r", r) || unicode.Is(unicode.Sm, r)
	}
	return false
}
