package main

import (
	"fmt"
	"os"
	"strings"

	"golang.org/x/text/language"

	"shopfloat/internal/guides"
)

// guideFlags are shared by the commands that read guides.
type guideFlags struct {
	Guides  string `arg:"env:SHOPFLOAT_GUIDES" placeholder:"DIR" help:"Folder of your own NAME.guide files."`
	Country string `help:"Country of the shop, two letters, for rules that differ; without it no number is named." placeholder:"CC"`
}

// library is what the program comes with and the shop's own folder on top. A
// broken file of the folder is named on stderr and left out; no folder is a misuse.
func (f guideFlags) library(e *env) (guides.Library, error) {
	if err := f.knownCountry(); err != nil {
		return guides.Library{}, err
	}
	lib, err := builtin()
	if err != nil || f.Guides == "" {
		return lib, err
	}
	if info, err := os.Stat(f.Guides); err != nil || !info.IsDir() {
		return lib, misuse(fmt.Errorf("--guides %s: there is no such folder", f.Guides))
	}
	lib, err = lib.With(os.DirFS(f.Guides))
	if err != nil {
		_, _ = fmt.Fprintf(e.stderr, "guides left out, the built-in ones stay:\n%v\n", err)
	}
	return lib, nil
}

// knownCountry refuses what is no country: it would read as one whose number
// nobody knows.
func (f guideFlags) knownCountry() error {
	if f.Country == "" {
		return nil
	}
	r, err := language.ParseRegion(f.Country)
	if err != nil || len(f.Country) != 2 || !r.IsCountry() {
		return misuse(fmt.Errorf("--country %s: there is no such country; give two letters, like IE", f.Country))
	}
	return nil
}

func (f guideFlags) settings() guides.Settings {
	return guides.Settings{Country: strings.ToUpper(f.Country)}
}

type guideCmd struct {
	ID string `arg:"positional" help:"Which guide; without it, a list."`
	guideFlags
}

// Run prints a whole guide, or the list of guides.
func (c *guideCmd) Run(e *env) error {
	lib, err := c.library(e)
	if err != nil {
		return err
	}
	text := titles(lib, lib.IDs())
	if c.ID != "" {
		g, ok := lib.Guide(c.ID)
		if !ok {
			return misuse(fmt.Errorf("there is no guide called %q; \"bot guide\" lists them", c.ID))
		}
		text = g.Whole(c.settings())
	}
	_, err = fmt.Fprint(e.stdout, text)
	return err
}
