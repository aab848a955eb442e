package holidays

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"shopfloat/internal/dayrule"
	"shopfloat/internal/shop"
)

// section is what the table has of a country.
type section struct {
	regions []Region
	lines   []line
}

// line is one of its days: in which regions, by which rule, how sure, and its name.
type line struct {
	where, name string
	rule        dayrule.Rule
	sure        Sure
}

// sections reads the table. That it is well formed is a test's to say.
var sections = sync.OnceValue(func() map[string]section {
	all := map[string]section{}
	country := ""
	for text := range strings.Lines(table) {
		text = strings.TrimSuffix(text, "\n")
		s := all[country]
		switch mark, rest, _ := strings.Cut(text, " "); mark {
		case "#":
			continue
		case "=":
			country, s = rest, section{}
		case "@":
			code, name, _ := strings.Cut(rest, " ")
			s.regions = append(s.regions, Region{code, name})
		default:
			s.read(strings.Split(text, "\t"))
		}
		all[country] = s
	}
	for _, s := range all {
		slices.SortFunc(s.regions, func(a, b Region) int { return cmp.Compare(a.Name, b.Name) })
	}
	return all
})

// read takes a line of a day, as far as it is one.
func (s *section) read(f []string) {
	if len(f) != 4 {
		return
	}
	if rule, err := dayrule.Parse(f[1]); err == nil {
		s.lines = append(s.lines, line{where: f[0], rule: rule, sure: Sure(f[2]), name: f[3]})
	}
}

// nation stands for a country itself among its regions.
const nation = "."

// holds reports whether a line is about a region: * is all, !A,B all but those.
func (l line) holds(region string) bool {
	if l.where == "*" {
		return true
	}
	but, all := strings.CutPrefix(l.where, "!")
	return slices.Contains(strings.Split(but, ","), region) != all
}

// reckon works out the days of a year in a place. Of two names for a day the surest
// stays, and of those the first. Where no region is laid down, the days of regions are
// doubtful.
func reckon(place string, year int) map[shop.Date]Holiday {
	country, region, _ := strings.Cut(place, "-")
	if region == "" {
		region = nation
	}
	days := map[shop.Date]Holiday{}
	for _, l := range sections()[country].lines {
		sure := l.sure
		if !l.holds(region) {
			if region != nation {
				continue
			}
			sure = Some
		}
		for y := year - 1; y <= year; y++ { // kept in the year before are only days told by date
			for _, date := range l.rule.In(y) {
				before, is := days[date]
				if date.Time().Year() == year && (!is || rank(sure) < rank(before.Sure)) {
					days[date] = Holiday{date, l.name, sure}
				}
			}
		}
	}
	return days
}

func rank(s Sure) int { return slices.Index([]Sure{Kept, Moon, Some}, s) }
