package engine

import (
	"slices"

	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// Guiding is what the engine knows of faults: the guides, and a way to find
// one. The zero value knows none. Find may be slow when it is first called.
type Guiding struct {
	Library guides.Library
	Find    func(text string) search.Answer

	// Ear hears what people mean; it may give none. Like Find it may be slow when it is first
	// called.
	Ear func() *hearing.Ear
}

// Guide lets an engine that answers no inputs yet help with faults.
func (e *Engine) Guide(g Guiding) *Engine {
	e.Guiding = g
	return e
}

func (e *Engine) Find(text string) search.Answer {
	if e.Guiding.Find == nil {
		return search.Answer{}
	}
	return e.Guiding.Find(text)
}

// Heard is what the words of an input mean here and now. They are weighed once.
func (c *Talk) Heard() hearing.Decision {
	if c.heard == nil {
		var d hearing.Decision
		if ear := c.Ear(); ear != nil {
			d = ear.Understand(c.In.Text, c.Situation())
		}
		c.heard = &d
	}
	return *c.heard
}

// Asks reports whether somebody asks what to do now, or where they were.
func (c *Talk) Asks() bool {
	if slices.Contains(c.V.List("words.lost"), texts.Plain(c.In.Text)) {
		return true
	}
	d := c.Heard()
	return d.Act == hearing.Do && d.Readings[0].ID == hearing.Now
}

// Ear hears what people mean; nil: there is none.
func (c *Talk) Ear() *hearing.Ear {
	if c.E.Guiding.Ear == nil {
		return nil
	}
	return c.E.Guiding.Ear()
}

// Puzzled notes that an input was not understood at once, in the form in which that is kept.
func (c *Talk) Puzzled() {
	if ear := c.Ear(); ear != nil && !c.Heard().Taught {
		c.Missed = ear.Phrase(c.In.Text, c.Situation())
	}
}

// Situation is what is going on where something is typed.
func (c *Talk) Situation() hearing.Situation {
	sit := hearing.At(&c.F.Shop.Settings, c.Kit, when.WordsOf(c.V.List), c.Today())
	sit.Naming, sit.Taught = c.Screen().Free, c.F.Ask.Taught
	return sit
}

// meansCommand gives the command whose words a text begins with, and what it has behind them.
// What is more than a command takes is a sentence, which is heard like any other.
func (c *Talk) meansCommand(cmd *Command, rest string) (*Command, string) {
	if cmd == nil || c.E.Guiding.Ear == nil {
		return cmd, rest
	}
	if !cmd.Dated && rest != c.low() {
		rest = hearing.Bare(rest)
	}
	sit := c.Situation()
	if rest == "" || cmd.Takes != NoWords && sit.Takes(rest) || rest == c.low() { // no word of its own
		return cmd, rest
	}
	if means, takes := c.Heard().Begun(cmd.Name, rest, sit); means {
		return cmd, takes
	}
	return nil, ""
}
