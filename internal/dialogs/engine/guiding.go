package engine

import (
	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
)

// Guiding is what the engine knows of faults: the guides, and a way to find
// one. The zero value knows none. Find may be slow when it is first called.
type Guiding struct {
	Library guides.Library
	Find    func(text string) search.Answer
}

// Guide lets an engine that answers no inputs yet help with faults.
func (e *Engine) Guide(g Guiding) *Engine {
	e.Guiding = g
	return e
}

func (e *Engine) Library() guides.Library { return e.Guiding.Library }

func (e *Engine) Find(text string) search.Answer {
	if e.Guiding.Find == nil {
		return search.Answer{}
	}
	return e.Guiding.Find(text)
}
