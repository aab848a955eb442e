package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"
)

// Chat is a conversation somebody types, at the time it is.
type Chat struct {
	Talk   *Talk
	Screen bool             // the person sees their own typing: prompt, and do not repeat it
	Beat   <-chan time.Time // when to look what has come due
}

// greeting tells how to use the chat.
const greeting = `This is the chat of your shop. Type as you would on a phone.
  A button is tapped by its label in square brackets; the beginning is enough: [Confirm] or [c].
  @as staff1 lets somebody else speak. Type help to see what you can do. Ctrl-D ends the chat.
`

// Run carries on the conversation until the input or the context ends.
func (c *Chat) Run(ctx context.Context, in io.Reader) (err error) {
	c.Talk.Transcript.print("%s", greeting)
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
