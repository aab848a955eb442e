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
func (e *Engine) sameAgain(c *talk, f *flow, cmd *command) {
	if c.rest == "" {
		e.redraw(c)
		return
	}
	if f.again == begunAgain {
		cmd.run(e, c)
		return
	}
	s := f.screens[c.State.Step]
	had, counted := c.State.Draft.Counts[c.State.Step]
	delete(c.State.Draft.Counts, c.State.Step) // all of it anew
	if s.answer != nil && s.answer(c, c.rest) {
		e.show(c)
		return
	}
	if counted {
		c.put(c.State.Step, had)
	}
	c.first(c.v.Say("not-taken", "near", c.rest))
	e.redraw(c)
}

// words are the ways to ask for a command in the speaker's language.
func (c *talk) words(cmd *command) []string { return c.v.List("words." + cmd.name) }

// command finds the command a text begins with, and what follows it. The
// longest words win.
func (e *Engine) command(c *talk) (cmd *command, rest string) {
	low := c.unpolite(strings.ReplaceAll(strings.TrimPrefix(fold(c.in.Text), "/"), "’", "'"))
	best := 0
	for i := range e.commands {
		for _, w := range c.words(&e.commands[i]) {
			after, ok := strings.CutPrefix(low, w)
			if !ok || len(w) <= best || !ends(after) {
				continue
			}
			best, cmd, rest = len(w), &e.commands[i], strings.TrimSpace(strings.TrimLeft(after, ".!?:,"))
		}
	}
	if cmd == nil && c.saysDuty(low) {
		return e.named(doDuty), low
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
func (e *Engine) text(c *talk) {
	f := e.flow(c)
	if f == nil && e.walkTyped(c) {
		return
	}
	cmd, rest := e.command(c)
	if f == nil && !c.quiet() && (e.offered(c, cmd, rest) || e.foundTyped(c) || e.checkedTyped(c)) {
		return
	}
	if e.asks(c, cmd, rest) {
		cmd = nil
	}
	if c.quiet() && (cmd == nil || cmd.plea) {
		e.walkCard(c, false) // whatever is typed now, nothing is asked
		return
	}
	if f != nil && f.screens[c.State.Step].free && (cmd == nil || rest != "") && e.answer(c, f) {
		return
	}
	if f != nil && (cmd == nil || cmd.answers || c.typedTap(f) != "" ||
		rest != "" && !plainCommand(cmd, rest)) {
		if e.answer(c, f) {
			return
		}
	}
	if cmd == nil && f == nil && c.expectsTotal() {
		if _, ok := c.amount(c.in.Text); ok {
			cmd, rest = e.named(doPrinted), c.in.Text
		}
	}
	if cmd == nil {
		e.unknown(c, f)
		return
	}
	c.rest = rest
	e.obey(c, cmd)
}

// obey carries out a command, after a word about the dialog that it would end.
func (e *Engine) obey(c *talk, cmd *command) {
	f := e.flow(c)
	if !e.may(c, cmd.name) {
		e.mayNot(c, cmd.name)
		return
	}
	if f != nil && cmd.flow == f.name {
		e.sameAgain(c, f, cmd)
		return
	}
	if f != nil && cmd.does == startsDialog && c.asksFirst(f) {
		e.askLeave(c, f, cmd)
		return
	}
	cmd.run(e, c)
	if f != nil && cmd.does == tellsOnly && !c.quiet() {
		e.redraw(c)
	}
}

// plainCommand reports whether what follows a command can belong to it; a
// sentence that only begins with its word is something else.
func plainCommand(cmd *command, rest string) bool {
	return len(strings.Fields(rest)) <= 12 && !cmd.plea
}

// answer gives a typed answer to the open screen. False means it was none.
func (e *Engine) answer(c *talk, f *flow) bool {
	if e.curtain(c, f) {
		return true
	}
	s := f.screens[c.State.Step]
	if choice := c.typedTap(f); choice != "" {
		s.taps[choice](c)
		e.show(c)
		return true
	}
	low := fold(strings.Trim(c.in.Text, ".! "))
	if !s.free && e.typedLabel(c, f, s, low) {
		return true
	}
	if s.answer == nil {
		return false
	}
	if low := counts.Fold(low); !s.free && bareNumber(low) && !c.State.Last.IsZero() && c.in.At.Sub(c.State.Last) > longPause {
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
func (e *Engine) typedLabel(c *talk, f *flow, s screen, low string) bool {
	if f.safe == safeOpen && low == fold(c.v.Say("button.customers")) {
		e.lockFirst(c, f)
		return true
	}
	if s.taps["confirm"] != nil && slices.Contains(c.v.List("words.agreed"), low) {
		c.first(c.v.Say("tap-confirm"))
		e.show(c)
		return true
	}
	for choice, tap := range s.taps {
		if choice != "confirm" && low == fold(c.v.Say("button."+choice)) {
			tap(c)
			e.show(c)
			return true
		}
	}
	return false
}

func bareNumber(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// unknown answers words that are neither an answer nor a command.
func (e *Engine) unknown(c *talk, f *flow) {
	if f == nil && c.f.Shop.Fresh {
		e.fresh(c)
		return
	}
	if f != nil && e.walkTyped(c) || e.searched(c, f) {
		return
	}
	if f == nil {
		c.say(c.v.Say("unknown"))
		return
	}
	c.first(c.v.Say("unknown-within"))
	e.redraw(c)
}

func cancelCommand() command {
	return command{name: doCancel, rights: rights{access.Everyone, anyPhone, fromStart},
		does: endsDialog, help: helpNever, takes: onlyFigures, run: (*Engine).cancel}
}

func (e *Engine) cancel(c *talk) {
	f := e.flow(c)
	if f == nil && c.State.Walk != nil && c.State.Walk.Machine == c.m.ID {
		e.stopWalk(c)
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
		does: tellsOnly, help: helpMore, takes: onlyFigures, menu: 13, plea: true, run: (*Engine).help}
}

// help shows what is asked for most; "help more" and "help 2" and so on show
// the rest, a page at a time.
func (e *Engine) help(c *talk) {
	page, err := strconv.Atoi(c.rest)
	if fold(c.rest) == c.v.Say("words.more") {
		page, err = 1, nil
	}
	if err != nil || page < 1 {
		page = 0
	}
	rows, last := e.helpRows(c, helpOften), c.v.Say("help-more")
	if page > 0 {
		rows = e.helpRows(c, helpMore)
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
func (e *Engine) helpRows(c *talk, where helping) (rows [][]string) {
	for _, cmd := range e.commands {
		if cmd.help == where && e.may(c, cmd.name) {
			rows = append(rows, []string{c.words(&cmd)[0], c.v.Say("help." + cmd.name)})
		}
	}
	return rows
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
