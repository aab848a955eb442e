package engine

import (
	"encoding/json"
	"fmt"
	"reflect"

	"shopfloat/internal/chat"
)

// Drafted is what the dialog under way keeps beside counts. It must be of the
// type that the dialog declares.
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
	form, err := json.Marshal(c.draft)
	if err != nil {
		panic(err) // a draft is plain data
	}
	if string(form) != "{}" {
		c.State.Draft.Form = form
	}
}

// kept reports whether the dialog under way keeps anything beside counts.
func (c *Talk) kept() bool {
	f := c.Flow()
	return c.draft != nil && !reflect.DeepEqual(c.draft, f.Draft())
}

// Answers are what was answered of a question so far.
func (c *Talk) Answers(name string) *chat.Answers {
	a := c.State.Draft.Answers[name]
	if a == nil {
		a = &chat.Answers{}
		if c.State.Draft.Answers == nil {
			c.State.Draft.Answers = map[string]*chat.Answers{}
		}
		c.State.Draft.Answers[name] = a
	}
	return a
}

// Counted gives the counts of a question that was asked; nil for one that was not.
func (c *Talk) Counted(name string) []int64 {
	if a := c.State.Draft.Answers[name]; a != nil {
		return a.Counts
	}
	return nil
}

// Put answers a question.
func (c *Talk) Put(name string, v []int64) { c.Answers(name).Counts = v }

// Unanswer drops the counts of questions; what was said above them stays said.
func (c *Talk) Unanswer(names ...string) {
	for _, name := range names {
		if a := c.State.Draft.Answers[name]; a != nil {
			a.Counts = nil
		}
	}
}

func (c *Talk) Choose(name, value string) {
	if c.State.Draft.Choices == nil {
		c.State.Draft.Choices = map[string]string{}
	}
	c.State.Draft.Choices[name] = value
}

func (c *Talk) Chosen(name string) string { return c.State.Draft.Choices[name] }

// Forget drops answers from the draft.
func (c *Talk) Forget(names ...string) {
	for _, name := range names {
		c.Unanswer(name)
		delete(c.State.Draft.Choices, name)
	}
}

// Anew forgets what was answered and asks for it from a screen on.
func Anew(from string, forget ...string) func(*Talk) {
	return func(c *Talk) {
		c.Forget(forget...)
		c.GoTo(from)
	}
}

// Remembered makes a pick remember what was chosen and go on.
func Remembered(name, next string) func(*Talk, string) {
	return func(c *Talk, value string) {
		c.Choose(name, value)
		c.GoTo(next)
	}
}

// GoBack makes a tap that leads to another screen.
func GoBack(step string) func(*Talk) { return func(c *Talk) { c.GoTo(step) } }

// Unasked gives the first of several screens whose answer is missing, or the review.
func Unasked(steps ...string) func(*Talk) string {
	return func(c *Talk) string {
		for _, step := range steps {
			if c.Chosen(step) == "" {
				return step
			}
		}
		return "review"
	}
}
