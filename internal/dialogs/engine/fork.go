package engine

import (
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/texts"
)

// A command that would end a dialog with something in it waits until its person
// says: go on, or leave. Until then neither of the two takes what is typed; the
// command keeps the figures that came with it.

// askLeave asks before a dialog is left for another. What is in it is told, as
// it may have been left hours ago.
func (c *Talk) askLeave(cmd *Command) {
	c.State.Draft.Leave = &chat.Leave{Command: cmd.Name, Rest: c.Rest}
	c.showFork()
}

// showFork asks: go on, or leave.
func (c *Talk) showFork() {
	l, f := c.State.Draft.Leave, c.Flow()
	old := c.Key()
	c.State.Rev++
	what, want := c.what(), c.V.Say("help."+l.Command)
	lines := []string{c.V.Say("leave", "what", what, "want", want)}
	if len(f.Asks) > 0 && !c.Robbed() {
		lines = append(lines, c.V.Say("leave-had", "head", c.State.Draft.Head, "when", c.Clock(c.State.Since)))
		lines = append(lines, c.draftSoFar())
	}
	body := []chat.Block{chat.Lines(lines...)}
	c.Send(chat.Reply{
		Body: body,
		Buttons: chat.Tagged(c.State.Rev, [][]chat.Button{
			{{Label: c.V.Say("button.stay", "what", what), Data: "go-on"}},
			{{Label: c.V.Say("button.leave", "what", what), Data: "leave"}}}),
		Key: c.Key(), Retire: old,
	})
}

// atFork answers what is typed while go on or leave stands: the words of the two
// buttons, or another command. Anything else is not taken, and it is said so.
func (c *Talk) atFork() bool {
	f := c.Flow()
	if f == nil {
		return false
	}
	low := texts.Fold(strings.Trim(c.In.Text, ".! "))
	says := func(button string) bool { return low == texts.Fold(c.V.Say("button."+button, "what", c.what())) }
	switch {
	case says("stay"), slices.Contains(c.V.List("words.stay"), low):
		c.stay()
		return true
	case says("leave"), slices.Contains(c.V.List("words.leave"), low):
		c.leave(f)
		return true
	}
	if cmd, _ := c.Command(); cmd != nil && !c.onlyNumber(f) {
		c.State.Draft.Leave = nil
		return false
	}
	if c.forBeside(f) {
		return true
	}
	c.notTaken(strings.TrimSpace(c.In.Text))
	c.showFork()
	return true
}

// stay goes on with the dialog under way.
func (c *Talk) stay() {
	c.State.Draft.Leave = nil
	c.Show()
}

// leave ends the dialog under way for the command that waited.
func (c *Talk) leave(f *Flow) {
	l := c.State.Draft.Leave
	if l == nil {
		c.Show()
		return
	}
	c.Close(chat.Block{Text: f.Stopped(c)})
	c.Rest = l.Rest
	if cmd := c.E.Named(l.Command); cmd != nil && c.May(l.Command) {
		cmd.Run(c)
	}
}

// ofAnotherPeriod reports whether figures came with the command of the dialog
// under way that belong to the period that is open, and not to the one that the
// dialog was left at.
func (c *Talk) ofAnotherPeriod() bool {
	p, no := c.M.Current(), c.State.Draft.Period
	return p != nil && no != 0 && p.No != no && c.State.Draft.Happened.IsZero()
}
