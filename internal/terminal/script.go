package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
)

// Script plays a conversation from lines at a time of their own.
type Script struct {
	Talk     *Talk
	Clock    *Clock
	Headings bool // print comments and clock steps, for a script that is read as a story
}

// BrokenError says which line of a script cannot be carried out.
type BrokenError struct {
	Line int // the first is 1
	Err  error
}

func (b *BrokenError) Error() string { return fmt.Sprintf("line %d: %v", b.Line, b.Err) }
func (b *BrokenError) Unwrap() error { return b.Err }

// Play carries out every line in order and prints the conversation as it goes.
// A line that does not fit ends it with a *BrokenError.
func (s *Script) Play(ctx context.Context, script io.Reader) (err error) {
	if err := s.Talk.start(ctx); err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Talk.stop()) }()
	lines := linesOf(script)
	for number := 1; ; number++ {
		raw, err := lines.next()
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case errors.Is(err, errLong):
			err = brokenLine{err}
		case err == nil:
			err = s.line(ctx, strings.TrimPrefix(raw, "\ufeff"))
		}
		if err != nil {
			return locate(err, number)
		}
		if s.Talk.Transcript.err != nil {
			return s.Talk.Transcript.err
		}
	}
}

func locate(err error, number int) error {
	if broken := (brokenLine{}); errors.As(err, &broken) {
		return &BrokenError{number, broken.err}
	}
	return err
}

func (s *Script) line(ctx context.Context, raw string) error {
	line, err := ParseLine(raw)
	if err != nil {
		return brokenLine{err}
	}
	if s.Headings && line.Text != "" && line.Verb == Skip {
		s.Talk.Transcript.heading(line.Text)
	}
	if line.Verb == At {
		return s.clockTo(ctx, line.Wall)
	}
	if line.Verb == Down {
		return s.down(ctx, line.Span)
	}
	return s.Talk.do(ctx, line, true)
}

// clockTo sets the clock. Whatever falls due up to then happens first, each at
// its own time.
func (s *Script) clockTo(ctx context.Context, wall Wall) error {
	at, err := wall.In(s.zone())
	if err != nil {
		return brokenLine{err}
	}
	return s.until(ctx, at)
}

// zone is where the speaker's clock hangs.
func (s *Script) zone() *time.Location { return s.Talk.bot.Zone(ChatOf(s.Talk.Speaker)) }

// until lets everything that falls due up to an instant happen at its own time.
func (s *Script) until(ctx context.Context, at time.Time) error {
	for {
		due, ok, err := s.Talk.bot.NextDue(ctx)
		if err != nil {
			return err
		}
		if !ok || due.After(at) {
			break
		}
		if err := s.fire(ctx, due); err != nil {
			return err
		}
	}
	s.Clock.Set(at)
	return nil
}

// fire lets what is due happen. What stays due then would stay so for ever.
func (s *Script) fire(ctx context.Context, due time.Time) error {
	if due.After(s.Clock.Now()) {
		s.Clock.Set(due)
	}
	if err := s.Talk.bot.Tick(ctx); err != nil {
		return err
	}
	if err := s.Talk.bot.Flush(ctx, s.Talk); err != nil {
		return err
	}
	if next, ok, err := s.Talk.bot.NextDue(ctx); err != nil || !ok || next.After(s.Clock.Now()) {
		return err
	}
	return fmt.Errorf("what is due at %s does not come to an end", due.UTC().Format(time.RFC3339))
}
