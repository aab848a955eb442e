package guides

import (
	"fmt"
	"slices"
	"unicode/utf8"
)

// checker collects what is wrong with a guide that could be read.
type checker struct {
	g    Guide
	errs []error
}

func (c *checker) fault(line int, format string, args ...any) {
	c.errs = append(c.errs, &LineError{File: c.g.File, Line: line, Msg: fmt.Sprintf(format, args...)})
}

// check reports every way in which a guide could leave a person stranded:
// a button that leads nowhere, a step nobody reaches, a branch without an end,
// a step too long for the phone, a hazard nobody is warned of.
func check(g Guide) []error {
	c := &checker{g: g}
	c.head()
	if _, ok := g.Step(StartStep); !ok {
		c.fault(1, "the guide has no step %q to begin with", StartStep)
		return c.errs
	}
	for _, s := range g.Steps {
		c.ending(s)
		c.links(s)
		c.shown(s)
	}
	c.hazards()
	c.walk()
	return c.errs
}

func (c *checker) head() {
	if c.g.ID == "" {
		c.fault(1, "the line \"guide: name\" is missing")
	}
	if c.g.Title == "" {
		c.fault(1, "the line \"title: ...\" is missing")
	}
	if len(c.g.Record) == 0 {
		c.fault(1, "the line \"record: ...\" is missing: say what is to be written down")
	}
}

func (c *checker) ending(s Step) {
	if len(s.Choices) == 0 && s.End == EndNone {
		c.fault(s.FileLine, "step %q has neither a choice nor an end", s.Name)
	}
	if s.End == EndCall && len(s.Call) == 0 {
		c.fault(s.FileLine, "step %q ends with a call for help but names nobody to call", s.Name)
	}
}

func (c *checker) links(s Step) {
	for _, ch := range s.Choices {
		if _, ok := c.g.Step(ch.To); !ok {
			c.fault(ch.FileLine, "the choice %q leads to step %q, which does not exist", ch.Text, ch.To)
		}
	}
}

// shown looks at the step as every kind of shop would see it.
func (c *checker) shown(s Step) {
	for _, set := range everyShop(s) {
		text := stepText(s, set)
		if text == "" {
			c.fault(s.FileLine, "step %q says nothing in a shop with %s; add an [else] line", s.Name, describe(set))
			return
		}
		if n := utf8.RuneCountInString(text); n > StepRunesMax {
			c.fault(s.FileLine, "step %q is %d characters long in a shop with %s; the most is %d",
				s.Name, n, describe(set), StepRunesMax)
			return
		}
		if n := len(fitting(s.Choices, set)); n > choicesMax || n == 0 && s.End == EndNone {
			c.fault(s.FileLine, "step %q has %d choices in a shop with %s; one to %d are good",
				s.Name, n, describe(set), choicesMax)
			return
		}
	}
}

func describe(set Settings) string {
	return fmt.Sprintf("lock=%s, test=%s, prints=%s, country=%q",
		set.Lock, set.value("test"), set.Prints, set.Country)
}

// wordiest is a country whose emergency numbers take the most room.
const wordiest = "TH"

// everyShop lists one shop for each combination of settings the step can tell
// apart, with more countries than it names.
func everyShop(s Step) []Settings {
	countries := []string{"XX", wordiest}
	for _, l := range s.Lines {
		if l.When.Setting == countrySetting {
			countries = append(countries, l.When.Values...)
		}
	}
	var out []Settings
	for _, country := range countries {
		switch country {
		case euroRegion, euRegion:
			country = "DE"
		}
		for _, lock := range settingValues("lock") {
			for _, prints := range settingValues("prints") {
				for _, test := range []bool{true, false} {
					out = append(out, Settings{
						Lock: Lock(lock), Prints: Prints(prints), TestDispense: test, Country: country,
					})
				}
			}
		}
	}
	return out
}

// hazards wants a warning of each: in the first step where every way meets it, else
// in the step that lays a hand on the machine.
func (c *checker) hazards() {
	start, _ := c.g.Step(StartStep)
	for _, h := range c.g.Hazards {
		if !slices.ContainsFunc(c.g.Steps, func(s Step) bool { return s.Warns(h) }) {
			c.fault(start.FileLine, "the hazard %q has no caution in any step", h)
		}
	}
}
