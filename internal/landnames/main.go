// Command landnames writes the names of countries: in English and in the languages of each, as the
// Unicode CLDR of golang.org/x/text has them, and the short forms that people write.
// The whole CLDR would make the program 2.3 MB larger.
//
//	go generate ./internal/lands
package main

import (
	"fmt"
	"log"
	"os"
	"slices"
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
)

func main() {
	var b strings.Builder
	b.WriteString("# Names of countries by code of ISO 3166-1. Written by \"go generate ./internal/lands\"\n" +
		"# from the Unicode CLDR " + display.CLDRVersion + " as golang.org/x/text has it (Unicode License v3),\n" +
		"# and from the lists in internal/landnames/lists.go.\n")
	for a := 'A'; a <= 'Z'; a++ {
		for z := 'A'; z <= 'Z'; z++ {
			if line := country(string(a) + string(z)); line != "" {
				b.WriteString(line + "\n")
			}
		}
	}
	if err := os.WriteFile("names.txt", []byte(b.String()), 0o644); err != nil {
		log.Fatal(err)
	}
}

// country writes the line of a country: its code, its names parted by "|", the English one first,
// and after a second bar its short forms. Empty where the code is of no country.
func country(code string) string {
	region, err := language.ParseRegion(code)
	if err != nil || region.Canonicalize() != region || !region.IsCountry() || slices.Contains(noCountry, code) {
		return ""
	}
	english := display.English.Regions().Name(region)
	if newer := renamed[code]; newer != "" {
		english = newer
	}
	if english == "" {
		return ""
	}
	list := []string{english}
	for _, tag := range spoken(code, region) {
		if namer := display.Regions(tag); namer != nil {
			if name := namer.Name(region); name != "" && !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	line := code + " " + strings.Join(list, "|")
	if also := short[code]; also != "" {
		line += "||" + strings.ReplaceAll(also, ", ", "|")
	}
	return line
}

// spoken lists the languages of a country: the likeliest one, and those that are official beside it.
func spoken(code string, region language.Region) (tags []language.Tag) {
	likely, err := language.Compose(language.Und, region)
	if err == nil {
		base, _ := likely.Base()
		tags = append(tags, language.Make(base.String()))
	}
	for _, l := range strings.Fields(official[code]) {
		tags = append(tags, language.Make(l))
	}
	if len(tags) == 0 {
		fmt.Fprintln(os.Stderr, "no language of", code)
	}
	return tags
}
