package terminal_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/terminal"
)

// card is the end of what the fake bot answers to a message.
const card = "\n  Right?\n  [Confirm]\n  [Change]\n"

func TestPlayPrints(t *testing.T) {
	for name, c := range map[string]struct{ script, want string }{
		"message":  {"hello", "owner> hello\nbot> text: hello" + card},
		"comment":  {"# a comment\n\n", ""},
		"speaker":  {"@as staff1\nhi", "staff1> hi\nbot> text: hi" + card},
		"two line": {`a\nb`, "owner> a\n  b\nbot> text: a\n  b" + card},
		"photo":    {"@photo slip", "owner> (photo: slip)\nbot> picture: slip" + card},
		"link":     {"@start ab1", "owner> /start ab1\nbot> text: /start ab1" + card},
		"control":  {"a\x1b[2Jb", "owner> a\ufffd[2Jb\nbot> text: a\ufffd[2Jb" + card},
	} {
		got, err := play(t, &fakeWorld{}, c.script)
		if err != nil || got != c.want {
			t.Errorf("%s: %v, got\n%s\nwant\n%s", name, err, got, c.want)
		}
	}
}

func TestPlayTap(t *testing.T) {
	got, err := play(t, &fakeWorld{}, "hello", "[conf]", "[conf]~")
	_, got, _ = strings.Cut(got, "[Change]\n")
	want := "owner> [Confirm]\nbot!> Noted.\nbot*> Done: Confirm\n  [Undo]\n" +
		"owner> [Confirm]\nbot!> Noted.\nbot*> Done: Confirm\n  [Undo]\n"
	if err != nil || got != want {
		t.Errorf("%v, got\n%s\nwant\n%s", err, got, want)
	}
}

func TestPlayRestartKeepsThePhones(t *testing.T) {
	w := &fakeWorld{}
	got, err := play(t, w, "hello", "@restart", "[Confirm]")
	if err != nil || !strings.HasSuffix(got, "bot*> Done: Confirm\n  [Undo]\n") {
		t.Errorf("%v, got\n%s", err, got)
	}
	if w.starts != 2 {
		t.Errorf("the bot was started %d times, want 2", w.starts)
	}
}

// A card that another run left open is shown to its person once.
func TestPlayShowsOpenCards(t *testing.T) {
	got, err := play(t, &fakeWorld{open: []chat.Chat{"term:staff1"}}, "@as staff1", "@as owner", "@as staff1")
	if want := "bot> Back to where you were.\n"; err != nil || got != want {
		t.Errorf("%v, got\n%s\nwant\n%s", err, got, want)
	}
}

func TestPlayFiresInOrderOfTime(t *testing.T) {
	at := func(hour int) time.Time { return time.Date(2026, 1, 5, hour, 0, 0, 0, time.UTC) }
	w := &fakeWorld{due: []time.Time{at(11), at(9), at(7), at(20)}}
	got, err := play(t, w, "@as staff1", "@2026-01-05 12:30", "@2026-01-04 09:00", "@2026-01-05 13:00")
	want := "bot> Due at 2026-01-05T07:00:00Z\n" +
		"bot@owner> Due at 2026-01-05T09:00:00Z\nbot@owner> Due at 2026-01-05T11:00:00Z\n"
	if err != nil || got != want {
		t.Errorf("%v, got\n%s\nwant\n%s", err, got, want)
	}
}

// What is due while the bot is down happens all at once when it is back; what is due
// before or after it at its own time. A span that is over today is tomorrow's, one that
// has begun goes on, and one may lead past midnight.
func TestPlayDown(t *testing.T) {
	at := func(day, hour int) time.Time { return time.Date(2026, 1, day, hour, 0, 0, 0, time.UTC) }
	for _, c := range []struct{ from, down, until, want string }{
		{"05 06:00", "08:00-11:00", "05 12:00", "07:00 10:00 10:00"}, // the clock here is an hour ahead
		{"05 08:30", "08:00-11:00", "05 12:00", "07:00 10:00 10:00"},
		{"04 12:00", "08:00-11:00", "05 12:00", "07:00 10:00 10:00"},
		{"04 23:00", "22:00-09:30", "05 12:00", "07:00 09:00 10:00"},
		{"05 00:00", "10:00-10:30", "05 12:00", "07:00 09:30 10:00"},
	} {
		w := &fakeWorld{due: []time.Time{at(5, 7), at(5, 9), at(5, 10), at(5, 12)}}
		got, err := play(t, w, "@2026-01-"+c.from, "@down "+c.down, "hello", "@2026-01-"+c.until)
		if err != nil || w.starts != 2 {
			t.Errorf("%s %s: %v, started %d times", c.from, c.down, err, w.starts)
		}
		var fired []string
		for line := range strings.Lines(got) {
			if _, at, ok := strings.Cut(line, "Due at 2026-01-05T"); ok {
				fired = append(fired, at[:5])
			}
		}
		if list := strings.Join(fired, " "); list != c.want {
			t.Errorf("%s %s: fired at %s, want %s", c.from, c.down, list, c.want)
		}
	}
}

func TestPlayErrDueForEver(t *testing.T) {
	w := &fakeWorld{stuck: true, due: []time.Time{time.Date(2026, 1, 5, 9, 0, 0, 0, time.UTC)}}
	if _, err := play(t, w, "@2026-01-05 12:30"); err == nil {
		t.Error("a deadline that stays due did not end the script")
	}
}

func TestPlayErrBrokenLine(t *testing.T) {
	for script, line := range map[string]int{
		"hello\n[Cancel]":                    2,
		"[Confirm]":                          1,
		"# x\n\nhello\n[Conf]~":              4,
		"@as Nobody":                         1,
		"hello\n@2026-13-01 08:0":            2,
		"@2026-07-01 08:00 +02:00":           1,
		"@start last":                        1,
		"\n" + strings.Repeat("x", 70_000):   2,
		strings.Repeat("x", 70_000) + "\nhi": 1,
	} {
		got, err := play(t, &fakeWorld{}, script)
		var broken *terminal.BrokenError
		if !errors.As(err, &broken) || broken.Line != line {
			t.Errorf("%.30q: error %v, want one of line %d", script, err, line)
			continue
		}
		long := strings.Contains(script, "xx")
		if long && !strings.HasSuffix(err.Error(), "too long; a chat message has at most 4,096 characters") {
			t.Errorf("error %v", err)
		}
		if strings.HasPrefix(script, "hello") && !strings.HasPrefix(got, "owner> hello\nbot> text: hello\n") {
			t.Errorf("%.30q: what went before is not printed: %q", script, got)
		}
	}
}

// A bot that fails is not a broken script.
func TestPlayErrBot(t *testing.T) {
	failure := errors.New("disk full")
	_, err := play(t, &fakeWorld{fail: failure}, "hello")
	if broken := (*terminal.BrokenError)(nil); !errors.Is(err, failure) || errors.As(err, &broken) {
		t.Errorf("error %v, want %v and no line", err, failure)
	}
}

func TestPlayStory(t *testing.T) {
	script, out := stage(&fakeWorld{})
	script.Headings = true
	if err := script.Play(t.Context(), strings.NewReader("# Morning\nhi")); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(out.String(), "Morning\n") {
		t.Errorf("no heading:\n%s", out)
	}
}
