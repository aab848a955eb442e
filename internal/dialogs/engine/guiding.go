package engine

import (
	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing"
	"shopfloat/internal/when"
)

// Guiding is what the engine knows of faults: the guides, and a way to find
// one. The zero value knows none. Find may be slow when it is first called.
type Guiding struct {
	Library guides.Library
	Find    func(text string) search.Answer

	// Understand says what people mean. Like Find it may be slow when it is first called.
	Understand func(text string, sit hearing.Situation) hearing.Decision
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
		if c.E.Guiding.Understand != nil {
			d = c.E.Guiding.Understand(c.In.Text, c.situation())
		}
		c.heard = &d
	}
	return *c.heard
}

// situation is what is going on where something is typed.
func (c *Talk) situation() hearing.Situation {
	sit := hearing.At(&c.F.Shop.Settings, c.Kit, when.WordsOf(c.V.List), c.Today())
	sit.Naming = c.Screen().Free
	return sit
}

// meansCommand says whether a text means the command whose words it begins with, and
// what it has behind them. What is more than a command takes is a sentence, which is
// heard like any other.
func (c *Talk) meansCommand(cmd *Command, rest string) (*Command, string) {
	if cmd == nil || c.E.Guiding.Understand == nil {
		return cmd, rest
	}
	rest = hearing.Bare(rest)
	sit := c.situation()
	if rest == "" || sit.Takes(rest) || rest == c.low() { // the last is no word of its own
		return cmd, rest
	}
	if means, takes := c.Heard().Begun(cmd.Name, rest, sit); means {
		return cmd, takes
	}
	return nil, ""
}
