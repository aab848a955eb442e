package terminal

import (
	"fmt"
	"io"
	"strings"
	"unicode"

	"shopfloat/internal/chat"
)

// Transcript prints a conversation. What a line begins with is fixed: "NAME> "
// for what a person sent, "bot> " for a reply to the speaker, "bot@NAME> " for a
// message to somebody else, a star before the ">" or "@" for an edit, "bot!> "
// for a short notice on a tap.
type Transcript struct {
	Out    io.Writer
	Colour bool // for a screen

	begun bool
	err   error
}

// Escape sequences of ECMA-48, select graphic rendition.
const (
	bold   = "\x1b[1m"
	cyan   = "\x1b[36m"
	normal = "\x1b[0m"
)

// person prints what somebody sent.
func (t *Transcript) person(name, text string) {
	t.lines(name+"> ", strings.Split(text, "\n"), nil)
}

// notice prints a short notice on a tap.
func (t *Transcript) notice(text string) { t.lines("bot!> ", strings.Split(text, "\n"), nil) }

// reply prints a message or an edit. To is empty for the speaker; kept says where its file is.
func (t *Transcript) reply(to string, edit bool, reply chat.Reply, kept string) {
	head := "bot"
	if edit {
		head += "*"
	}
	if to != "" {
		head += "@" + to
	}
	var text, buttons []string
	for _, block := range reply.Body {
		text = append(text, strings.Split(strings.TrimRight(block.Text, "\n"), "\n")...)
	}
	if reply.File != nil {
		text = append(text, "(file: "+reply.File.Name+kept+")")
	}
	for _, row := range reply.Buttons {
		for _, b := range row {
			buttons = append(buttons, "["+b.Label+"]")
		}
	}
	t.lines(head+"> ", text, buttons)
}

// heading prints a line that nobody sent, apart from the talk above it.
func (t *Transcript) heading(text string) {
	if t.begun {
		t.print("\n")
	}
	t.print("%s\n\n", t.paint(bold, "== "+text))
}

func (t *Transcript) lines(head string, text, buttons []string) {
	if len(text) == 0 {
		text = []string{""}
	}
	t.print("%s%s\n", t.paint(bold, head), plain(text[0]))
	for _, line := range text[1:] {
		t.print("  %s\n", plain(line))
	}
	for _, label := range buttons {
		t.print("  %s\n", t.paint(cyan, plain(label)))
	}
}

// plain shows control characters instead of obeying them: what people type must
// not be able to repaint the screen of somebody else.
func plain(line string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return unicode.ReplacementChar
		}
		return r
	}, line)
}

func (t *Transcript) paint(colour, s string) string {
	if !t.Colour {
		return s
	}
	return colour + s + normal
}

func (t *Transcript) print(format string, args ...any) {
	t.begun = true
	if t.err == nil {
		_, t.err = fmt.Fprintf(t.Out, format, args...)
	}
}
