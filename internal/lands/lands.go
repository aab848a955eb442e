// Package lands knows countries by the names that people write: in English, in the country's own
// languages, and short.
package lands

import (
	_ "embed"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

//go:generate go run ../landnames

//go:embed names.txt
var table string

// Land is a country as people call it.
type Land struct {
	Code string // ISO 3166-1 alpha-2
	Name string // in English
}

// index is made when somebody first asks: most shops ask once in their life.
var index = sync.OnceValues(func() (byName map[string]Land, near map[string]Land) {
	byName, near = map[string]Land{}, map[string]Land{}
	for line := range strings.Lines(table) {
		code, names, ok := strings.Cut(strings.TrimSpace(line), " ")
		if !ok || code == "#" {
			continue
		}
		list := strings.Split(names, "|")
		land := Land{Code: code, Name: list[0]}
		byName[folded(code)], near[folded(land.Name)] = land, land
		for _, name := range list {
			name = folded(name)
			if _, taken := byName[name]; !taken && name != "" {
				byName[name] = land
			}
		}
	}
	return byName, near
})

// Find gives the country that is called so.
func Find(s string) (Land, bool) {
	byName, _ := index()
	land, ok := byName[folded(s)]
	return land, ok
}

// Near gives the one country whose English name is a letter away from what was typed.
func Near(s string) (found Land, ok bool) {
	_, names := index()
	typed := []rune(folded(s))
	if len(typed) < nearFrom {
		return found, false
	}
	for name, land := range names {
		if letters := []rune(name); len(letters) >= nearFrom && oneApart(typed, letters) {
			if ok && found != land {
				return Land{}, false
			}
			found, ok = land, true
		}
	}
	return found, ok
}

// nearFrom is the length from which on a letter more or less is a slip: shorter names
// are one letter from one another (Iran, Iraq).
const nearFrom = 5

// oneApart reports whether two words differ by one letter, or by two that stand the other way round.
func oneApart(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch {
	case len(b)-len(a) > 1:
		return false
	case len(b) > len(a):
		return string(a[i:]) == string(b[i+1:])
	case i == len(a):
		return true
	case string(a[i+1:]) == string(b[i+1:]):
		return true
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && string(a[i+2:]) == string(b[i+2:])
}

// folded is the form in which names are compared: small letters without marks,
// signs, articles and "and".
func folded(s string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(strings.ToLower(s)) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case unicode.IsLetter(r), unicode.Is(unicode.Mc, r):
			b.WriteString(plain.Replace(string(r)))
		case unicode.IsSpace(r), r == '-', r == '&':
			b.WriteByte(' ')
		}
	}
	small := func(w string) bool { return w == "and" || w == "the" }
	return strings.Join(slices.DeleteFunc(strings.Fields(b.String()), small), " ")
}

// plain are letters that are one sign, and are typed as others where a keyboard lacks them.
var plain = strings.NewReplacer("ß", "ss", "ø", "o", "ł", "l", "đ", "d", "ı", "i", "æ", "ae", "œ", "oe",
	"ð", "d")
