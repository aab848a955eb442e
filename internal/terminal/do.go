package terminal

import (
	"context"
	"errors"
	"path"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
)

// brokenLine is a line that cannot be carried out, as against a bot that fails.
type brokenLine struct{ err error }

func (b brokenLine) Error() string { return b.err.Error() }
func (b brokenLine) Unwrap() error { return b.err }

// do carries out one line, all but clock steps. What a person sent is printed
// first when echo is set. A line that does not fit is a brokenLine.
func (t *Talk) do(ctx context.Context, line Line, echo bool) error {
	switch line.Verb {
	case Skip:
		return nil
	case As:
		return t.turnTo(ctx, line.Text)
	case Restart:
		return t.restart(ctx)
	case Tap:
		b, ok := t.Phones.find(ChatOf(t.Speaker), line.Text, line.Old)
		if !ok {
			return brokenLine{t.missing(line)}
		}
		t.echo(echo, "["+b.Label+"]")
		return t.tap(ctx, b)
	case Photo:
		t.echo(echo, "(photo: "+line.Text+")")
		return t.photo(ctx, line.Text)
	case File:
		t.echo(echo, "(file: "+path.Base(line.Text)+")")
		return t.take(ctx, chat.Input{Kind: chat.Sent, Photo: books.Photo{ID: line.Text, Unique: line.Text}})
	case Start:
		return t.follow(ctx, line.Text, echo)
	}
	t.echo(echo, line.Text)
	return t.say(ctx, line.Text)
}

func (t *Talk) echo(echo bool, text string) {
	if echo {
		t.Transcript.person(t.Speaker, text)
	}
}

// follow opens a link: chat programs send its code as a "/start" message.
func (t *Talk) follow(ctx context.Context, code string, echo bool) error {
	if code == "last" {
		if t.Code == "" {
			return brokenLine{errors.New("no link was printed yet")}
		}
		code = t.Code
	}
	t.echo(echo, "/start "+code)
	return t.say(ctx, "/start "+code)
}
