package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/counts"
)

// sameAgain answers a command for the dialog that is under way already: what
// follows it is taken as an answer, or begins the dialog afresh. Words that are
// neither are said not to be taken: the card below them would be taken for them.
func (c *talk) sameAgain(f *flow, cmd *command) {
	if c.rest == "" {
		c.redraw()
		return
	}
	if f.again == begunAgain {
		cmd.run(c)
		return
	}
	s := f.screens[c.State.Step]
	had, counted := c.State.Draft.Counts[c.State.Step]
	delete(c.State.Draft.Counts, c.State.Step) // all of it anew
	if s.answer != nil && s.answer(c, c.rest) {
		c.show()
		return
	}
	if counted {
		c.put(c.State.Step, had)
	}
	c.first(c.v.Say("not-taken", "near", c.rest))
	c.redraw()
}

// words are the ways to ask for a command in the speaker's language.
func (c *talk) words(cmd *command) []string { return c.v.List("words." + cmd.name) }

// command finds the command a text begins with, and what follows it. The
// longest words win.
func (c *talk) command() (cmd *command, rest string) {
	low := c.unpolite(strings.ReplaceAll(strings.TrimPrefix(fold(c.in.Text), "/"), "’", "'"))
	best := 0
	for i := range c.e.commands {
		for _, w := range c.words(&c.e.commands[i]) {
			after, ok := strings.CutPrefix(low, w)
			if !ok || len(w) <= best || !ends(after) {
				continue
			}
			best, cmd, rest = len(w), &c.e.commands[i], strings.TrimSpace(strings.TrimLeft(after, ".!?:,"))
		}
	}
	if cmd == nil {
		if cmd = c.meant(low); cmd != nil {
			rest = low
		}
	}
	return cmd, rest
}

// named finds a command by its name; nil if there is none.
func (e *Engine) named(name string) *command {
	i := slices.IndexFunc(e.commands, func(cmd command) bool { return cmd.name == name })
	if i < 0 {
		return nil
	}
	return &e.commands[i]
}

// unpolite drops what people say before the word that matters: "i want to close".
func (c *talk) unpolite(s string) string {
	for again := true; again; {
		again = false
		for _, w := range c.v.List("words.polite") {
			if after, ok := strings.CutPrefix(s, w+" "); ok {
				s, again = strings.TrimSpace(after), true
			}
		}
	}
	return s
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
func (c *talk) text() {
	f := c.flow()
	if c.forBeside(f) {
		return
	}
	cmd, rest := c.command()
	cmd, taken := c.weighed(f, cmd, rest)
	if taken {
		return
	}
	if f != nil && f.screens[c.State.Step].free && (cmd == nil || rest != "") && c.answer(f) {
		return
	}
	if f != nil && (cmd == nil || cmd.answers || c.typedTap(f) != "" ||
		rest != "" && !plainCommand(cmd, rest)) {
		if c.answer(f) {
			return
		}
	}
	if cmd == nil {
		c.unknown(f)
		return
	}
	c.rest = rest
	c.obey(cmd)
}

// obey carries out a command, after a word about the dialog that it would end.
func (c *talk) obey(cmd *command) {
	f := c.flow()
	if !c.may(cmd.name) {
		c.mayNot(cmd.name)
		return
	}
	if f != nil && cmd.flow == f.name {
		c.sameAgain(f, cmd)
		return
	}
	if f != nil && cmd.does == startsDialog && c.asksFirst(f) {
		c.askLeave(f, cmd)
		return
	}
	cmd.run(c)
	if f != nil && cmd.does == tellsOnly && !c.quiet() {
		c.redraw()
	}
}

// plainCommand reports whether what follows a command can belong to it; a
// sentence that only begins with its word is something else.
func plainCommand(cmd *command, rest string) bool {
	return len(strings.Fields(rest)) <= 12 && !cmd.plea
}

// answer gives a typed answer to the open screen. False means it was none.
func (c *talk) answer(f *flow) bool {
	if c.curtain(f) {
		return true
	}
	s := f.screens[c.State.Step]
	if choice := c.typedTap(f); choice != "" {
		s.taps[choice](c)
		c.show()
		return true
	}
	low := fold(strings.Trim(c.in.Text, ".! "))
	if !s.free && c.typedLabel(f, s, low) {
		return true
	}
	if s.answer == nil {
		return false
	}
	if low := counts.Fold(low); !s.free && bareNumber(low) && !c.State.Last.IsZero() && c.in.At.Sub(c.State.Last) > longPause {
		c.choose("pending", low)
		c.first(c.v.Say("long-pause", "what", c.v.Say("flow."+f.title), "when", c.clock(c.State.Last)))
		c.first(c.draftSoFar())
		c.show()
		return true
	}
	if !s.answer(c, c.in.Text) {
		return false
	}
	c.show()
	return true
}

// typedTap gives the tap of the open screen whose words were typed; empty for none.
func (c *talk) typedTap(f *flow) string {
	low := fold(strings.Trim(c.in.Text, ".! "))
	for _, choice := range f.screens[c.State.Step].typed {
		if slices.Contains(c.v.List("words."+choice), low) {
			return choice
		}
	}
	return ""
}

// typedLabel takes a button's words that were typed. What books is shown again,
// since one tap books and nothing else.
func (c *talk) typedLabel(f *flow, s screen, low string) bool {
	if f.safe == safeOpen && low == fold(c.v.Say("button.customers")) {
		c.lockFirst(f)
		return true
	}
	if s.taps["confirm"] != nil && slices.Contains(c.v.List("words.agreed"), low) {
		c.first(c.v.Say("tap-confirm"))
		c.show()
		return true
	}
	for choice, tap := range s.taps {
		if choice != "confirm" && low == fold(c.v.Say("button."+choice)) {
			tap(c)
			c.show()
			return true
		}
	}
	return false
}

func bareNumber(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// unknown answers words that are neither an answer nor a command.
func (c *talk) unknown(f *flow) {
	if f == nil && c.f.Shop.Fresh {
		c.notSetUp()
		return
	}
	if c.strays(f) {
		return
	}
	if f == nil {
		c.say(c.v.Say("unknown"))
		return
	}
	c.first(c.v.Say("unknown-within"))
	c.redraw()
}

func cancelCommand() command {
	return command{name: doCancel, rights: rights{access.Everyone, anyPhone, fromStart},
		does: endsDialog, help: helpNever, takes: onlyFigures, run: (*talk).cancel}
}

func (c *talk) cancel() {
	f := c.flow()
	if f == nil && c.cancels() {
		return
	}
	if f == nil {
		c.say(c.v.Say("nothing-to-cancel"))
		return
	}
	c.close(Block{Text: f.stopped(c)})
}

// helpPage is how many commands one message of help lists.
const helpPage = 10

func helpCommand() command {
	return command{name: doHelp, rights: rights{access.Everyone, anyPhone, onceSetUp},
		does: tellsOnly, help: helpMore, takes: onlyFigures, menu: 13, plea: true, run: (*talk).help}
}

// help shows what is asked for most; "help more" and "help 2" and so on show
// the rest, a page at a time.
func (c *talk) help() {
	page, err := strconv.Atoi(c.rest)
	if fold(c.rest) == c.v.Say("words.more") {
		page, err = 1, nil
	}
	if err != nil || page < 1 {
		page = 0
	}
	rows, last := c.helpRows(helpOften), c.v.Say("help-more")
	if page > 0 {
		rows = c.helpRows(helpMore)
		pages := (len(rows) + helpPage - 1) / helpPage
		page = min(page, pages)
		rows = rows[(page-1)*helpPage : min(page*helpPage, len(rows))]
		last = c.v.Say("help-counts")
		if page < pages {
			last = c.v.Say("help-next", "n", page+1)
		}
	}
	c.send(Reply{Body: []Block{{Text: c.v.Say("help")}, columns(2, rows), {Text: last}}})
}

// helpRows lists what the person may ask for, of what help shows there.
func (c *talk) helpRows(where helping) (rows [][]string) {
	for _, cmd := range c.e.commands {
		if cmd.help == where && c.may(cmd.name) {
			rows = append(rows, []string{c.words(&cmd)[0], c.v.Say("help." + cmd.name)})
		}
	}
	return rows
}

// askLeave asks before a dialog is left for another.
func (c *talk) askLeave(f *flow, cmd *command) {
	c.State.Draft.Leave = &Leave{Command: cmd.name, Rest: c.rest}
	c.State.Rev++
	what, want := c.v.Say("flow."+f.title), c.v.Say("help."+cmd.name)
	c.send(Reply{
		Body: []Block{{Text: c.v.Say("leave", "what", what, "want", want)}},
		Buttons: c.tag([][]Button{
			{{c.v.Say("button.stay", "what", what), "go-on"}},
			{{c.v.Say("button.leave", "what", what), "leave"}},
		}),
		Key: c.key(), Retire: "d" + strconv.Itoa(c.State.Rev-1),
	})
}

// draftSoFar says what has been answered of all questions so far, each part
// under its name once there are several.
func (c *talk) draftSoFar() string {
	var parts, only []string
	for _, q := range c.flow().asks {
		answered := q.Answered(c)
		if len(answered) == 0 {
			continue
		}
		if only = answered; q.Noughts(c) {
			answered = []string{c.v.Say("part-none")}
		}
		parts = append(parts, c.v.Say("part."+q.Called())+": "+strings.Join(answered, ", "))
	}
	switch len(parts) {
	case 0:
		return c.v.Say("nothing-so-far")
	case 1:
		return c.v.Say("so-far", "counts", strings.Join(only, ", "))
	}
	return c.v.Say("parts-so-far") + "\n" + strings.Join(parts, "\n")
}
