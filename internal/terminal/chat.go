package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
)

// Chat is a conversation somebody types, at the time it is.
type Chat struct {
	Talk   *Talk
	Screen bool             // the person sees their own typing: prompt, and do not repeat it
	Beat   <-chan time.Time // when to look what has come due
}

// greeting tells how to use the chat.
const greeting = `  A button is tapped by its label in square brackets; a part will do: [Confirm] or [c].
  help shows what you can do. Ctrl-D ends the chat.
`

// threeThings are what to try first in the example shop, whose machine has boxes of 50s, 20s and 10s.
const threeThings = `  Three things to try:
    open 40 150 200                  the morning: count notes in, then [Confirm]
    machine says no connection       help with a fault, in your own words
    close 12 59 80                   the evening: one note is missing; what now?
`

// greet says who the speaker is, and what to try.
func (c *Chat) greet(ctx context.Context) error {
	me, list, err := c.who(ctx)
	if err != nil {
		return err
	}
	t := c.Talk.Transcript
	switch {
	case me == nil && len(list) == 0:
		t.print("There is no shop here yet. Type @start last: that makes you an owner and sets one up.\n")
	case me == nil:
		t.print("You are %s, whom nobody knows here yet. %s\n", c.Talk.Speaker, others(list, ""))
	case me.Example:
		t.print("You are %s, %s of an example shop. Nothing here is real: try what you like.\n", me.Name, me.Role)
		t.print("%s", threeThings)
	default:
		t.print("You are %s, %s of %s. Type as you would on a phone.\n", me.Name, me.Role, me.Shop)
	}
	t.print("%s", greeting)
	if me != nil && len(list) > 1 {
		t.print("  @as lets somebody else speak. %s\n", others(list, me.Speaker))
	}
	return nil
}

// who finds the speaker among those who have a phone here; nil: they are none of them.
func (c *Chat) who(ctx context.Context) (me *Known, list []Known, err error) {
	if c.Talk.Known == nil {
		return nil, nil, nil
	}
	if list, err = c.Talk.Known(ctx); err != nil {
		return nil, nil, err
	}
	for i := range list {
		if list[i].Speaker == c.Talk.Speaker {
			me = &list[i]
		}
	}
	return me, list, nil
}

// others names the people of a list but one, as @as calls them.
func others(list []Known, but string) string {
	var names []string
	for _, k := range list {
		if k.Speaker != but {
			names = append(names, fmt.Sprintf("%s (%s, %s)", k.Speaker, k.Name, k.Role))
		}
	}
	return "Known here: " + strings.Join(names, ", ") + "."
}

// turned says whom the chat turned to.
func (c *Chat) turned(ctx context.Context) error {
	me, list, err := c.who(ctx)
	switch {
	case err != nil || c.Talk.Known == nil:
		return err
	case me != nil:
		c.Talk.Transcript.print("(You are %s now, %s of %s.)\n", me.Name, me.Role, me.Shop)
	case len(list) > 0:
		c.Talk.Transcript.print("(Nobody here is called %s yet. %s\n Somebody new comes in by a link: "+
			"as owner type invite, then @as %s and @start last.)\n", c.Talk.Speaker, others(list, ""), c.Talk.Speaker)
	}
	return nil
}

// Run carries on the conversation until the input or the context ends.
func (c *Chat) Run(ctx context.Context, in io.Reader) (err error) {
	if err := c.greet(ctx); err != nil {
		return err
	}
	if err := c.Talk.start(ctx); err != nil {
		return err
	}
	defer func() { err = errors.Join(err, c.Talk.stop()) }()
	typed := make(chan typedLine)
	var readErr error
	go func() {
		defer close(typed)
		readErr = readLines(ctx, in, typed)
	}()
	c.prompt()
	for err == nil && ctx.Err() == nil {
		select {
		case <-ctx.Done():
		case raw, more := <-typed:
			if !more {
				c.endLine()
				return readErr
			}
			err = c.line(ctx, raw)
			c.prompt()
		case <-c.Beat:
			err = c.beat(ctx)
		}
	}
	if ctx.Err() != nil {
		return nil // the person ended it
	}
	return err
}

// typedLine is a line, or why it cannot be taken.
type typedLine struct {
	text string
	err  error
}

func readLines(ctx context.Context, in io.Reader, typed chan<- typedLine) error {
	lines := linesOf(in)
	for {
		text, err := lines.next()
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case err != nil && !errors.Is(err, errLong):
			return err
		}
		select {
		case typed <- typedLine{text, err}:
		case <-ctx.Done():
			return nil
		}
	}
}

// line carries out one line; one that does not fit is answered with a sentence.
func (c *Chat) line(ctx context.Context, raw typedLine) error {
	line, err := Line{}, raw.err
	if err == nil {
		line, err = ParseLine(raw.text)
	}
	if err == nil && (line.Verb == At || line.Verb == Down) {
		err = errors.New("the clock runs by itself here; times are for scripts")
	}
	if err == nil {
		err = c.Talk.do(ctx, line, !c.Screen)
		if broken := (brokenLine{}); err != nil && !errors.As(err, &broken) {
			return err
		}
		if err == nil && line.Verb == As {
			err = c.turned(ctx)
		}
	}
	if err != nil {
		c.Talk.Transcript.print("(That did not work: %v.)\n", err)
	}
	return c.Talk.Transcript.err
}

// beat lets happen what has come due. The desk fires a deadline once.
func (c *Chat) beat(ctx context.Context) error {
	due, ok, err := c.Talk.bot.NextDue(ctx)
	if err != nil || !ok || due.After(c.Talk.Now()) {
		return err
	}
	c.endLine()
	if err := c.Talk.bot.Tick(ctx); err != nil {
		return err
	}
	if err := c.Talk.bot.Flush(ctx, c.Talk); err != nil {
		return err
	}
	c.prompt()
	return nil
}

func (c *Chat) prompt() {
	if c.Screen {
		c.Talk.Transcript.print("%s", c.Talk.Transcript.paint(bold, fmt.Sprintf("%s> ", c.Talk.Speaker)))
	}
}

func (c *Chat) endLine() {
	if c.Screen {
		c.Talk.Transcript.print("\n")
	}
}
