package engine

import (
	"encoding/json"
	"fmt"
	"reflect"

	"shopfloat/internal/chat"
)

// Drafted is what the dialog under way keeps beside counts. It must be of the type that the dialog declares.
func Drafted[D any](c *Talk) *D {
	d, ok := c.draft.(*D)
	if !ok {
		panic(fmt.Sprintf("%s keeps a %T, not a %T", c.State.Flow, c.draft, d))
	}
	return d
}

// Keeps reports whether the dialog under way keeps a draft of a type.
func Keeps[D any](c *Talk) bool {
	_, ok := c.draft.(*D)
	return ok
}

// openDraft reads what the dialog under way keeps, an empty draft at first. It
// fails where the stored form is not that of the dialog.
func (c *Talk) openDraft() error {
	c.draft = nil
	f := c.Flow()
	if f == nil || f.Draft == nil {
		return nil
	}
	c.draft = f.Draft()
	if len(c.State.Draft.Form) == 0 {
		return nil
	}
	return json.Unmarshal(c.State.Draft.Form, c.draft)
}

// keepDraft puts what the dialog keeps into the state.
func (c *Talk) keepDraft() {
	c.State.Draft.Form = nil
	if c.draft == nil {
		return
	}
	if form := plain(c.draft); string(form) != "{}" {
		c.State.Draft.Form = form
	}
}

// plain writes a draft, which is plain data.
func plain(draft any) json.RawMessage {
	data, err := json.Marshal(draft)
	if err != nil {
		panic(err)
	}
	return data
}

// kept reports whether the dialog under way keeps anything beside counts.
func (c *Talk) kept() bool {
	f := c.Flow()
	return c.draft != nil && !reflect.DeepEqual(c.draft, f.Draft())
}

// Answers are what was answered of a question so far.
func (c *Talk) Answers(name string) *chat.Answers { return c.State.Draft.Of(name) }

// Counted gives the counts of a question that was asked; nil for one that was not.
func (c *Talk) Counted(name string) []int64 { return c.State.Draft.Counted(name) }

// Put answers a question.
func (c *Talk) Put(name string, v []int64) { c.Answers(name).Counts = v }

// Unanswer drops the counts of questions; what was said above them stays said.
func (c *Talk) Unanswer(names ...string) { c.State.Draft.Drop(names...) }

// GoBack makes a tap that leads to another screen.
func GoBack(step string) func(*Talk) { return func(c *Talk) { c.GoTo(step) } }
