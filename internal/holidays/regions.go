package holidays

import (
	_ "embed"
	"slices"
	"strings"
	"sync"
	"unicode"

	"shopfloat/internal/names"
)

//go:embed said.txt
var saidFile string

// said has the other names of regions: by country and code, as [plain] writes them.
var said = sync.OnceValue(func() map[string][]string {
	all := map[string][]string{}
	for line := range strings.Lines(saidFile) {
		place, list, ok := strings.Cut(strings.TrimSpace(line), ":")
		if !ok || strings.HasPrefix(line, "#") {
			continue
		}
		for name := range strings.SplitSeq(list, ",") {
			all[place] = append(all[place], strings.Join(plain(name), " "))
		}
	}
	return all
})

// plain writes a name as most people type it: small letters without accents, signs left
// out, ue for ü and u alike.
func plain(s string) []string {
	s = strings.NewReplacer("ae", "a", "oe", "o", "ue", "u").Replace(names.Unaccented(s))
	return strings.FieldsFunc(strings.ReplaceAll(s, "'", ""), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
}

// titles are words of names of regions that people leave out.
var titles = strings.Fields(`canton of the hansestadt departement et region doutre mer
	province state comunidad de
	ciudad community chartered republika autonomous kanton bundesland county land`)

// bare leaves titles out, unless nothing else is left.
func bare(words []string) []string {
	rest := slices.DeleteFunc(slices.Clone(words), func(w string) bool { return slices.Contains(titles, w) })
	if len(rest) == 0 {
		return words
	}
	return rest
}

// leastLetters is how much of a word of a name must be typed.
const leastLetters = 3

// begins reports whether words are beginnings of all words of a name, in their order, or of the
// first of them.
func begins(words, name []string) bool {
	if len(words) == 0 || len(words) > len(name) {
		return false
	}
	for i, w := range words {
		if len(w) < leastLetters && w != name[i] || !strings.HasPrefix(name[i], w) {
			return false
		}
	}
	return true
}

// RegionOf finds a region of a country by its code or its name as people say it: without
// accents and titles, in another language, or by a beginning that only one has.
func RegionOf(country, s string) (Region, bool) { return regionOf(country, s, true) }

// RegionCalled finds a region like [RegionOf], but by its whole name only: what is typed for a
// country may be the beginning of one of its parts (Australia, Australian Capital Territory).
func RegionCalled(country, s string) (Region, bool) { return regionOf(country, s, false) }

func regionOf(country, s string, begun bool) (Region, bool) {
	list := Regions(country)
	words := bare(plain(s))
	typed := strings.Join(words, " ")
	of := func(r Region) [][]string {
		called := [][]string{bare(plain(r.Name))}
		for _, other := range said()[country+" "+r.Code] {
			called = append(called, strings.Fields(other))
		}
		return called
	}
	for _, is := range []func(Region) bool{
		func(r Region) bool { return strings.EqualFold(r.Code, strings.TrimSpace(s)) || r.Name == s },
		func(r Region) bool {
			return slices.ContainsFunc(of(r), func(n []string) bool { return strings.Join(n, " ") == typed })
		},
		func(r Region) bool {
			return begun && slices.ContainsFunc(of(r), func(n []string) bool { return begins(words, n) })
		},
	} {
		var found []Region
		for _, r := range list {
			if is(r) {
				found = append(found, r)
			}
		}
		if len(found) == 1 {
			return found[0], true
		}
		if len(found) > 1 {
			return Region{}, false
		}
	}
	return Region{}, false
}
