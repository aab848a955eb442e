package guides

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// step reads a line below a step's name.
func (p *parser) step(n int, text string) {
	s := &p.g.Steps[len(p.g.Steps)-1]
	switch {
	case strings.HasPrefix(text, "!"):
		p.caution(n, s, strings.TrimPrefix(text, "!"))
	case strings.HasPrefix(text, "- "):
		p.choice(n, s, strings.TrimPrefix(text, "- "))
	case strings.HasPrefix(text, "call:"):
		p.call(n, s, strings.TrimPrefix(text, "call:"))
	case strings.HasPrefix(text, "end:"):
		p.end(n, s, strings.TrimSpace(strings.TrimPrefix(text, "end:")))
	default:
		p.text(n, s, text)
	}
}

func (p *parser) caution(n int, s *Step, rest string) {
	hazard, text, ok := strings.Cut(rest, ":")
	c := Caution{Hazard: Hazard(strings.TrimSpace(hazard)), Text: strings.TrimSpace(text)}
	switch {
	case !ok || c.Text == "":
		p.fault(n, "a caution reads \"! hazard: what to do\"")
	case !slices.Contains(p.g.Hazards, c.Hazard):
		p.fault(n, "caution for %q, but the head does not list that hazard", c.Hazard)
	case len(s.Lines) > 0 || len(s.Choices) > 0:
		p.fault(n, "cautions come first in a step, before its text")
	}
	s.Cautions = append(s.Cautions, c)
}

func (p *parser) text(n int, s *Step, text string) {
	if len(s.Choices) > 0 || s.End != EndNone {
		p.fault(n, "text after the choices or the end of step %q; start a new step with \"== name\"", s.Name)
	}
	when, rest := p.condition(n, text)
	if when.Setting == elseSetting && (len(s.Lines) == 0 || s.Lines[len(s.Lines)-1].When.Setting == "") {
		p.fault(n, "[else] needs a line with a condition just above it")
	}
	s.Lines = append(s.Lines, Line{When: when, Text: rest})
}

func (p *parser) choice(n int, s *Step, text string) {
	when, rest := p.condition(n, text)
	label, to, ok := strings.Cut(rest, "->")
	c := Choice{When: when, Text: strings.TrimSpace(label), To: strings.TrimSpace(to), FileLine: n}
	switch {
	case !ok || c.Text == "" || c.To == "":
		p.fault(n, "a choice reads \"- words on the button -> name of the next step\"")
	case utf8.RuneCountInString(c.Text) > choiceMax:
		p.fault(n, "the button is longer than %d characters", choiceMax)
	case when.Setting == elseSetting:
		p.fault(n, "[else] is for text; give the choice a condition of its own")
	case s.End != EndNone:
		p.fault(n, "step %q has an end and a choice; it can have one of them", s.Name)
	}
	s.Choices = append(s.Choices, c)
}

func (p *parser) call(n int, s *Step, list string) {
	for _, word := range splitTrim(list, ",") {
		if !knownContact(Contact(word)) {
			p.fault(n, "contact %q is not known; use emergency, manager, deputy, provider, engineer, "+
				"broadband, police, bank or insurer", word)
		}
		s.Call = append(s.Call, Contact(word))
	}
}

func (p *parser) end(n int, s *Step, word string) {
	switch {
	case !knownEnd(End(word)):
		p.fault(n, "end %q is not known; use solved, call for help or out of service", word)
	case s.End != EndNone || len(s.Choices) > 0:
		p.fault(n, "step %q ends twice, or has choices and an end", s.Name)
	}
	s.End = End(word)
}

// condition takes "[setting=a|b]" or "[else]" off the front of a text.
func (p *parser) condition(n int, text string) (Condition, string) {
	inner, rest, ok := strings.Cut(strings.TrimPrefix(text, "["), "]")
	if !strings.HasPrefix(text, "[") || !ok {
		return Condition{}, text
	}
	rest = strings.TrimSpace(rest)
	if rest == "" {
		p.fault(n, "nothing stands after the condition")
	}
	if inner == elseSetting {
		return Condition{Setting: elseSetting}, rest
	}
	setting, list, _ := strings.Cut(inner, "=")
	c := Condition{Setting: setting, Values: splitTrim(list, "|")}
	if !validCondition(c) {
		p.fault(n, "[%s] is not a condition; use lock=key|dial|electronic, test=yes|no, "+
			"prints=notes|money|both|nothing, country=GB|US|euro or else", inner)
	}
	return c, rest
}

func validCondition(c Condition) bool {
	for _, v := range c.Values {
		known := slices.Contains(settingValues(c.Setting), v)
		if c.Setting == countrySetting {
			known = knownRegion(v)
		}
		if !known {
			return false
		}
	}
	return len(c.Values) > 0
}
