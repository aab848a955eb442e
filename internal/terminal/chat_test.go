package terminal_test

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"shopfloat/internal/terminal"
)

func TestRunPiped(t *testing.T) {
	script, out := stage(&fakeWorld{})
	chat := terminal.Chat{Talk: script.Talk}
	typed := "hello\n[c]\n[nothing]\n@2026-01-05 09:00\n@as staff1\nhi\n"
	if err := chat.Run(t.Context(), strings.NewReader(typed)); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"owner> hello\nbot> text: hello\n", "owner> [Confirm]\nbot!> Noted.\nbot*> Done: Confirm\n",
		"(That did not work: owner has no button", "(That did not work: the clock runs by itself", "staff1> hi\n",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
}

// A line no phone could send costs that line and nothing else.
func TestRunGoesOnAfterALineTooLong(t *testing.T) {
	for _, end := range []string{"\nhi\r\n", "\nhi"} {
		script, out := stage(&fakeWorld{})
		chat := terminal.Chat{Talk: script.Talk}
		typed := "hello\n" + strings.Repeat("x", 70_000) + end
		if err := chat.Run(t.Context(), strings.NewReader(typed)); err != nil {
			t.Fatal(err)
		}
		_, got, _ := strings.Cut(out.String(), "owner> hello\n")
		want := "bot> text: hello" + card +
			"(That did not work: the message is too long; a chat message has at most 4,096 characters.)\n" +
			"owner> hi\nbot> text: hi" + card
		if got != want {
			t.Errorf("got\n%.500s\nwant\n%s", got, want)
		}
	}
}

func TestRunErrRead(t *testing.T) {
	script, out := stage(&fakeWorld{})
	chat := terminal.Chat{Talk: script.Talk}
	failure := errors.New("the pipe broke")
	in := io.MultiReader(strings.NewReader("hello\nhal"), iotest.ErrReader(failure))
	if err := chat.Run(t.Context(), in); !errors.Is(err, failure) {
		t.Errorf("error %v", err)
	}
	if got := out.String(); !strings.Contains(got, "owner> hello\n") || strings.Contains(got, "hal\n") {
		t.Errorf("said:\n%s", got)
	}
}

func TestRunOnAScreenPrompts(t *testing.T) {
	script, out := stage(&fakeWorld{})
	chat := terminal.Chat{Talk: script.Talk, Screen: true}
	if err := chat.Run(t.Context(), strings.NewReader("hello\n")); err != nil {
		t.Fatal(err)
	}
	if got := out.String(); strings.Contains(got, "owner> hello") || strings.Count(got, "owner> ") != 2 {
		t.Errorf("want a prompt before and after, and what was typed not repeated:\n%s", got)
	}
}

func TestRunEndsWithTheContext(t *testing.T) {
	script, _ := stage(&fakeWorld{})
	chat := terminal.Chat{Talk: script.Talk}
	in, stop := io.Pipe()
	defer func() { _ = stop.Close() }()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if err := chat.Run(ctx, in); err != nil {
		t.Errorf("error %v, want none", err)
	}
}

func TestRunTellsWhatComesDue(t *testing.T) {
	w := &fakeWorld{due: []time.Time{time.Date(2026, 1, 5, 9, 0, 0, 0, time.UTC)}}
	script, out := stage(w)
	beat := make(chan time.Time)
	chat := terminal.Chat{Talk: script.Talk, Beat: beat}
	in, typed := io.Pipe()
	done := make(chan error, 1)
	go func() { done <- chat.Run(t.Context(), in) }()
	beat <- time.Time{} // nothing is due yet
	script.Clock.Set(time.Date(2026, 1, 5, 9, 30, 0, 0, time.UTC))
	beat <- time.Time{}
	_ = typed.Close()
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "Due at 2026-01-05T09:30:00Z") {
		t.Errorf("nothing was told:\n%s", out)
	}
}
