package engine

import (
	"cmp"
	"encoding/json"
	"slices"
	"strings"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// A command that would end a dialog with something in it waits until its person says: go on, or leave. Until
// then neither of the two takes what is typed; the command keeps the figures that came with it.

// askLeave asks before a dialog is left for another. What is in it is told, as
// it may have been left hours ago.
func (c *Talk) askLeave(cmd *Command) {
	l := &chat.Leave{Command: cmd.Name, Rest: c.Rest}
	if c.State.Draft.Leave = l; c.left(c.Flow()) {
		l.Left = c.since()
	}
	c.showFork()
}

// leftFor is how long a dialog rests until it is asked whether what is in it happened.
const leftFor = 2 * time.Hour

// since is when the open dialog was last answered; one of an earlier program did not keep it.
func (c *Talk) since() time.Time { return cmp.Or(c.State.Draft.At, c.State.Last) }

// rested reports whether that is hours ago.
func (c *Talk) rested() bool { return !c.since().IsZero() && c.In.At.Sub(c.since()) >= leftFor }

// stood asks, before a tap books what has stood for hours, when it happened: it is booked as of
// then, or of now. What carries no time of its own is shown once more.
func (c *Talk) stood(f *Flow, choice string) bool {
	if !c.rested() || !c.books(choice) {
		return false
	}
	if c.left(f) && c.State.Draft.Happened.IsZero() {
		c.State.Draft.Leave = &chat.Leave{Left: c.since()}
		c.showFork()
		return true
	}
	c.First(c.V.Say("card-from", "when", c.DayClock(c.since())))
	c.taken()
	return true
}

// books reports whether a tap on the open card records something.
func (c *Talk) books(choice string) bool {
	t := c.E.Talk(c.State, c.In, c.F)
	t.State.Draft.Head, t.State.Draft.At = "", c.In.At
	t.tapped(choice)
	return len(t.Records)+len(t.Beside) > 0
}

// taken shows what comes after an answer.
func (c *Talk) taken() {
	if c.State.Flow != "" {
		c.State.Draft.At = c.In.At
	}
	c.Show()
}

// left reports whether a dialog was left hours ago with nothing missing but the tap that
// books. A count that is in asks for its slip whatever was left.
func (c *Talk) left(f *Flow) bool {
	kept := func(q Asked) bool { return len(q.Answered(c)) > 0 && q.Kept(c) }
	return f.Of != nil && f.Paper != OffPaper && c.rested() && !c.Robbed() &&
		c.Screen().Taps["confirm"] != nil && !slices.ContainsFunc(f.Asks, kept)
}

// happened goes on with what was left: it is shown and confirmed as of the time it was left
// at, and then the command that waited comes. A closing comes first where what was left can
// be told after a count: it is settled when nobody's count can learn from it any more.
func (c *Talk) happened(f *Flow) {
	l, d := c.State.Draft.Leave, &c.State.Draft
	if d.Leave = nil; l == nil || l.Left.IsZero() {
		c.Show()
		return
	}
	d.Happened = cmp.Or(d.Happened, l.Left.UTC())
	cmd := c.E.Named(l.Command)
	if cmd != nil && f.Late && c.May(cmd.Name) && cmd.flow != "" && c.E.Flows[cmd.flow].Settles {
		c.keepDraft()
		aside := &chat.Aside{Flow: f.Name, Step: c.State.Step, Draft: plain(*d)}
		c.Close(chat.Lines(c.V.Say("aside", "head", d.Head)))
		c.State.Draft.Aside, c.ended, c.Rest = aside, nil, l.Rest
		cmd.Run(c)
		return
	}
	if cmd != nil {
		d.Then = &chat.Leave{Command: l.Command, Rest: l.Rest}
	}
	c.Overtaken()
	c.First(c.V.Say("as-of", "when", c.DayClock(c.State.Draft.Happened)))
	c.taken()
}

// Settle takes up what was put aside, and after it a command.
func (c *Talk) Settle(then string) {
	if a := c.State.Draft.Aside; a != nil {
		c.takeBack(a)
		c.State.Draft.Then = &chat.Leave{Command: then}
	}
}

func (c *Talk) takeBack(a *chat.Aside) {
	c.State.Flow, c.State.Step, c.State.Draft = a.Flow, a.Step, chat.Draft{}
	if json.Unmarshal(a.Draft, &c.State.Draft) != nil || c.openDraft() != nil {
		c.End() // of another program
		return
	}
	c.State.Draft.At = c.In.At
	c.First(c.V.Say("as-of", "when", c.DayClock(c.State.Draft.Happened)))
}

// goesOn shows what waited for the dialog that has ended in this step: what was put aside
// for it, or the command that was asked for.
func (c *Talk) goesOn() {
	was := c.ended
	if c.ended = nil; c.Flow() != nil {
		return
	}
	if was.Aside != nil {
		c.takeBack(was.Aside)
		c.Show()
	} else if cmd := c.E.Named(was.Then.Command); cmd != nil && c.May(cmd.Name) {
		c.Rest = was.Then.Rest
		cmd.Run(c)
	}
}

// showFork asks: go on, or leave.
func (c *Talk) showFork() {
	l, f := c.State.Draft.Leave, c.Flow()
	what, head, old := c.what(), c.State.Draft.Head, c.Key()
	c.State.Rev++
	lines := []string{c.V.Say("leave", "what", what, "want", c.V.Say("help."+l.Command))}
	buttons := [][]chat.Button{c.Button("stay", "go-on", "what", what), c.Button("leave", "leave", "what", what)}
	switch {
	case !l.Left.IsZero():
		at := *c // as of then: its card may have come again since
		at.State.Draft.Happened = cmp.Or(at.State.Draft.Happened, l.Left)
		head = at.heading(f, c.Screen())
		lines = []string{c.V.Say("left-since", "when", c.Clock(l.Left), "head", head),
			telling.SoFar(c.Teller, c.answered()),
			c.V.Say(texts.Either(l.Command == "", "left-then.", "left-did.") + cmp.Or(f.Read, "deed"))}
		buttons = [][]chat.Button{c.Button("did", "did"), c.Button("did-not", "leave")}
		if l.Command == "" {
			buttons = slices.Insert(buttons, 1, c.Button("just-now", "just-now"))
		}
	case len(f.Asks) > 0 && !c.Robbed():
		lines = append(lines, c.V.Say(texts.Either(telling.SomeKept(c.answered()), "leave-stands", "leave-had"),
			"head", head, "when", c.Clock(c.State.Since)), telling.Unrecorded(c.Teller, c.answered()))
	}
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(lines...)}, Buttons: chat.Tagged(c.State.Rev, buttons),
		Key: c.Key(), Retire: old})
}

// atFork answers what is typed while go on or leave stands: the words of the two
// buttons, or another command. Anything else is not taken, and it is said so.
func (c *Talk) atFork() bool {
	f := c.Flow()
	if f == nil {
		return false
	}
	l, low := c.State.Draft.Leave, texts.Fold(strings.Trim(c.In.Text, ".! "))
	says := func(button string) bool { return low == texts.Fold(c.V.Say("button."+button, "what", c.what())) }
	switch {
	case !l.Left.IsZero() && (says("did") || slices.Contains(c.V.List("words.did"), low)):
		c.happened(f)
		return true
	case l.Command == "" && says("just-now"):
		c.stay(true)
		return true
	case says("stay"), slices.Contains(c.V.List("words.stay"), low):
		c.stay(false)
		return true
	case says("leave"), says("did-not"), slices.Contains(c.V.List("words.leave"), low):
		c.leave(f)
		return true
	}
	if cmd, rest := c.Command(); cmd != nil && !cmd.Answers && !c.onlyNumber(f) {
		if l.Rest != "" && cmd.Name == l.Command && rest == "" {
			c.showFork()
			return true
		} else if l.Rest != "" && cmd.Name != l.Command {
			c.Say(telling.NotTaken(c.Teller, l.Rest)) // they wait no longer
		}
		c.State.Draft.Leave = nil
		return false
	}
	if c.forBeside(f) {
		return true
	}
	if !c.Asks() {
		c.notTaken(strings.TrimSpace(c.In.Text))
	}
	c.showFork()
	return true
}

// stay goes on with the dialog under way; now: what was left in it is as of now.
func (c *Talk) stay(now bool) {
	if c.State.Draft.Leave = nil; now {
		c.State.Draft.At = c.In.At
	}
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
	c.Rest, c.ended = l.Rest, nil
	if cmd := c.E.Named(l.Command); cmd != nil && c.May(l.Command) {
		cmd.Run(c)
	}
}

// ofAnotherPeriod reports whether figures that came with the command of the dialog under way
// belong to the period that is open, and not to the one that the dialog was left at.
func (c *Talk) ofAnotherPeriod() bool {
	p, no := c.M.Current(), c.State.Draft.Period
	return p != nil && no != 0 && p.No != no && c.State.Draft.Happened.IsZero()
}
