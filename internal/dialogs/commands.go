package dialogs

import (
	"slices"
	"strings"
	"time"
)

// command is something a person can ask for by a word or two.
type command struct {
	name  string
	words []string // ways to say it, the one that help shows first
	hides bool     // not offered in help
	run   func(*Engine, *talk)
}

// starts makes a command that begins a dialog.
func starts(flow string) func(*Engine, *talk) {
	return func(e *Engine, c *talk) { e.begin(c, flow) }
}

// commands lists what people can ask for. English words are matched; a
// language adds its own under "words.<name>" in its catalogue.
func commands() []command {
	return []command{
		{name: "open", words: []string{"open", "opening"}, run: starts("open")},
		{name: "topup", words: []string{"top up", "top-up", "topup"}, run: starts("topup")},
		{name: "swap", words: []string{"swap", "swap box", "swap the box"}, run: starts("swap")},
		{name: "move", words: []string{"move", "move notes", "borrow", "bring back"}, run: starts("move")},
		{name: "level", words: []string{"level", "levels", "level check"}, run: starts("level")},
		{name: "count-now", words: []string{"count now", "count"}, run: starts("spot")},
		{name: "second", words: []string{"second count", "count again"}, run: starts("second")},
		{name: "test", words: []string{"test", "test payout", "test dispense"}, run: starts("test")},
		{name: "found", words: []string{"found", "found notes"}, run: starts("found")},
		{name: "close", words: []string{"close", "closing"}, run: starts("close")},
		{name: "finish", words: []string{"finish"}, run: starts("finish")},
		{name: "settle", words: []string{"settle", "settlement"}, run: starts("settle")},
		{name: "printed", words: []string{"printed", "printed total", "slip", "total"}, run: starts("printed")},
		{name: "earlier", words: []string{"earlier", "from earlier", "enter something from earlier"},
			run: starts("earlier")},
		{name: "status", words: []string{"status"}, run: (*Engine).status},
		{name: "history", words: []string{"history"}, run: (*Engine).history},
		{name: "undo", words: []string{"undo"}, run: starts("undo")},
		{name: "cancel", words: []string{"cancel", "stop"}, hides: true, run: (*Engine).cancel},
		{name: "help", words: []string{"help", "start", "hello", "hi", "menu"}, run: (*Engine).help},
	}
}

// command finds the command a text begins with, and what follows it. The
// longest words win.
func (e *Engine) command(text string) (cmd *command, rest string) {
	low := strings.TrimPrefix(fold(text), "/")
	best := 0
	for i := range e.commands {
		for _, w := range e.commands[i].words {
			after, ok := strings.CutPrefix(low, w)
			if !ok || len(w) <= best || !ends(after) {
				continue
			}
			best, cmd, rest = len(w), &e.commands[i], strings.TrimSpace(strings.TrimLeft(after, ".!?:,"))
		}
	}
	return cmd, rest
}

// ends reports whether a command word ends here rather than going on.
func ends(after string) bool {
	return after == "" || strings.ContainsRune(" .!?:,\n\t", rune(after[0]))
}

// longPause is how long a dialog may rest before a bare number shows the
// draft first instead of being taken as an answer.
const longPause = 30 * time.Minute

// text answers a message: an answer to the open question, a command, or words
// that are neither.
func (e *Engine) text(c *talk) {
	f := e.flow(c)
	cmd, rest := e.command(c.in.Text)
	if f != nil && (cmd == nil || rest != "" && !plainCommand(cmd, rest)) {
		if e.answer(c, f) {
			return
		}
	}
	if cmd == nil && f == nil && c.expectsTotal() {
		if _, ok := c.amount(c.in.Text); ok {
			cmd, rest = &command{name: "printed", run: starts("printed")}, c.in.Text
		}
	}
	if cmd == nil {
		e.unknown(c, f)
		return
	}
	c.rest = rest
	if f != nil && cmd.name != "cancel" && !e.reads(cmd) {
		e.askLeave(c, f, cmd)
		return
	}
	cmd.run(e, c)
	if f != nil && e.reads(cmd) {
		e.redraw(c)
	}
}

// plainCommand reports whether what follows a command can belong to it; a
// sentence that only begins with its word is something else.
func plainCommand(cmd *command, rest string) bool {
	return len(strings.Fields(rest)) <= 12 && cmd.name != "help"
}

// reads reports whether a command only tells something.
func (e *Engine) reads(cmd *command) bool {
	return slices.Contains([]string{"status", "history", "help"}, cmd.name)
}

// answer gives a typed answer to the open screen. False means it was none.
func (e *Engine) answer(c *talk, f *flow) bool {
	s := f.screens[c.State.Step]
	low := fold(strings.Trim(c.in.Text, ".! "))
	if choice, ok := s.typed[low]; ok && s.taps[choice] != nil {
		s.taps[choice](c)
		e.show(c)
		return true
	}
	if s.answer == nil {
		return false
	}
	if bareNumber(low) && !c.State.Last.IsZero() && c.in.At.Sub(c.State.Last) > longPause {
		c.choose("pending", low)
		c.first(c.v.Say("long-pause", "what", c.v.Say("flow."+f.title), "when", c.clock(c.State.Last)))
		c.first(c.draftSoFar())
		e.show(c)
		return true
	}
	if !s.answer(c, c.in.Text) {
		return false
	}
	e.show(c)
	return true
}

func bareNumber(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// unknown answers words that are neither an answer nor a command.
func (e *Engine) unknown(c *talk, f *flow) {
	if f == nil {
		c.say(c.v.Say("unknown"))
		return
	}
	c.first(c.v.Say("unknown-within"))
	e.redraw(c)
}

func (e *Engine) cancel(c *talk) {
	f := e.flow(c)
	if f == nil {
		c.say(c.v.Say("nothing-to-cancel"))
		return
	}
	c.close(Block{Text: c.v.Say("cancelled", "what", c.v.Say("flow."+f.title))})
}

func (e *Engine) help(c *talk) {
	rows := [][]string{}
	for _, cmd := range e.commands {
		if !cmd.hides {
			rows = append(rows, []string{cmd.words[0], c.v.Say("help." + cmd.name)})
		}
	}
	c.send(Reply{Body: []Block{{Text: c.v.Say("help")}, columns(2, rows), {Text: c.v.Say("help-more")}}})
}

// askLeave asks before a dialog is left for another.
func (e *Engine) askLeave(c *talk, f *flow, cmd *command) {
	c.State.Draft.Leave = &Leave{Command: cmd.name, Rest: c.rest}
	c.State.Rev++
	what, want := c.v.Say("flow."+f.title), c.v.Say("help."+cmd.name)
	c.send(Reply{
		Body: []Block{{Text: c.v.Say("leave", "what", what, "want", want)}},
		Buttons: c.tag([][]Button{
			{{c.v.Say("button.stay", "what", what), "go-on"}},
			{{c.v.Say("button.leave", "what", what), "leave"}},
		}),
		Key: c.key(), Retire: "d" + itoa(c.State.Rev-1),
	})
}
