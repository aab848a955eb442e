package engine

import (
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/guides"
	"shopfloat/internal/guides/search"
	"shopfloat/internal/hearing"
	"shopfloat/internal/reminders"
	"shopfloat/internal/texts"
	"shopfloat/internal/when"
)

// Moments are what a room sees to at the engine's own moments, beside its dialogs. Where several rooms want
// one moment they are asked in the order in which they are listed, until one has taken it. Nil is nothing.
type Moments struct {
	// alarm hears words before anything else does: an emergency.
	Alarm func(*Talk) bool

	// opened answers a link that was made here.
	Opened func(*Engine, chat.State, chat.Input, chat.Facts) chat.Result

	// beside hears words first that may be for what runs beside the dialog.
	Beside func(*Talk, *Flow) bool

	// weighs looks at words and the command they begin with. It takes them, or
	// says which command they mean, if any.
	Weighs func(c *Talk, f *Flow, cmd *Command, rest string) (means *Command, taken bool)

	// means names the command of words that do not begin with its own; empty for none.
	Means func(c *Talk, low string) string

	// stray hears words that are neither an answer nor a command.
	Stray func(*Talk, *Flow) bool

	Pictured  func(*Talk) bool // takes a photo that is for no dialog
	Filed     func(*Talk)      // takes a file that was sent, and what was read in one
	Redrawn   func(*Talk)      // shows anew what stands beside the dialog
	Cancelled func(*Talk) bool // ends what runs beside, where no dialog is open
	Due       func(*Talk)      // answers a deadline
	Heard     func(*Talk)      // sees that somebody is there
	After     func(*Talk)      // looks at what a step recorded, or laid down in the settings

	Fresh  func(*Talk)                 // says what comes next in a shop that is not set up
	Which  func(*Talk, string) bool    // asks which machine a dialog is about, before it begins
	Week   func(*Talk, reminders.Name) // tells the owners of the week before
	Advice *Advising

	Matters []Matter // that stay open until somebody sees to them
}

// Advising says before an opening how much to load, and why.
type Advising struct {
	Line func(*Talk) (line string, known bool) // empty for nothing; known: Why has something to tell
	Why  func(*Talk) string
}

func (m Moments) declare(e *Engine) {
	e.moments = append(e.moments, m)
	if m.Opened != nil {
		e.opens = m.Opened
	}
	if m.Advice != nil {
		e.Advice = *m.Advice
	}
	if m.Which != nil {
		e.which = m.Which
	}
	if m.Week != nil {
		e.Week = m.Week
	}
}

// first asks the rooms that want a moment until one has taken it.
func (e *Engine) first(ask func(Moments) bool) bool {
	for _, m := range e.moments {
		if ask(m) {
			return true
		}
	}
	return false
}

func (c *Talk) alarmed() bool {
	if !c.E.first(func(m Moments) bool { return m.Alarm != nil && m.Alarm(c) }) {
		return false
	}
	for i := range c.Replies {
		c.Replies[i].Urgent = true // it waits behind nothing, in no chat
	}
	return true
}

func (c *Talk) forBeside(f *Flow) bool {
	return c.E.first(func(m Moments) bool { return m.Beside != nil && m.Beside(c, f) })
}

// weighed gives the command that words mean, or nil; taken says that they are answered.
func (c *Talk) weighed(f *Flow, cmd *Command, rest string) (means *Command, taken bool) {
	taken = c.E.first(func(m Moments) bool {
		taken := false
		if m.Weighs != nil {
			cmd, taken = m.Weighs(c, f, cmd, rest)
		}
		return taken
	})
	return cmd, taken
}

// meant is the command that words mean without one of its own. It is asked for several times.
func (c *Talk) meant(low string) *Command {
	if in := c.State.Flow + "\n" + low; in != c.meansIn {
		c.means, c.meansIn = "", in
		c.E.first(func(m Moments) bool {
			if m.Means != nil {
				c.means = m.Means(c, low)
			}
			return c.means != ""
		})
	}
	return c.E.Named(c.means)
}

func (c *Talk) strays(f *Flow) bool {
	return c.E.first(func(m Moments) bool { return m.Stray != nil && m.Stray(c, f) })
}

func (c *Talk) pictures() bool {
	return c.E.first(func(m Moments) bool { return m.Pictured != nil && m.Pictured(c) })
}

func (c *Talk) cancels() bool {
	return c.E.first(func(m Moments) bool { return m.Cancelled != nil && m.Cancelled(c) })
}

// each lets every room that wants a moment have it.
func (c *Talk) each(which func(Moments) func(*Talk)) {
	for _, m := range c.E.moments {
		if do := which(m); do != nil {
			do(c)
		}
	}
}

func (c *Talk) showBeside() { c.each(func(m Moments) func(*Talk) { return m.Redrawn }) }
func (c *Talk) cameDue()    { c.each(func(m Moments) func(*Talk) { return m.Due }) }
func (c *Talk) notSetUp()   { c.each(func(m Moments) func(*Talk) { return m.Fresh }) }

// ledTo lets the rooms look at what a step leads to.
func (c *Talk) ledTo() {
	c.each(func(m Moments) func(*Talk) { return m.Heard })
	if len(c.Records) > 0 || c.Settings != nil {
		c.each(func(m Moments) func(*Talk) { return m.After })
	}
}

// noAdvice says nothing before an opening.
func noAdvice() Advising {
	return Advising{Line: func(*Talk) (string, bool) { return "", false }, Why: func(*Talk) string { return "" }}
}

// OpenMatters lists what is asked for again until it is done.
func (e *Engine) OpenMatters() (list []Matter) {
	for _, m := range e.moments {
		list = append(list, m.Matters...)
	}
	return list
}

// Guiding is what the engine knows of faults: the guides, and a way to find
// one. The zero value knows none. Find may be slow when it is first called.
type Guiding struct {
	Library guides.Library
	Find    func(text string) search.Answer

	// Ear hears what people mean; it may give none. Like Find it may be slow when it is first called.
	Ear func() *hearing.Ear
}

// Guide lets an engine that answers no inputs yet help with faults.
func (e *Engine) Guide(g Guiding) *Engine {
	e.Guiding = g
	return e
}

func (e *Engine) Find(text string) search.Answer {
	if e.Guiding.Find == nil {
		return search.Answer{}
	}
	return e.Guiding.Find(text)
}

// Heard is what the words of an input mean here and now. They are weighed once.
func (c *Talk) Heard() hearing.Decision {
	if c.heard == nil {
		var d hearing.Decision
		if ear := c.Ear(); ear != nil {
			d = ear.Understand(c.In.Text, c.Situation())
		}
		c.heard = &d
	}
	return *c.heard
}

// MeansOther reports whether counts clearly go with another command than that of the dialog under way.
func (c *Talk) MeansOther() bool {
	d := c.Heard()
	return d.Counts() && c.E.Flows[d.Readings[0].ID] != c.Flow()
}

// Asks reports whether somebody asks what to do now, or where they were.
func (c *Talk) Asks() bool {
	if slices.Contains(c.V.List("words.lost"), texts.Plain(c.In.Text)) {
		return true
	}
	d := c.Heard()
	return d.Act == hearing.Do && d.Readings[0].ID == hearing.Now
}

// Ear hears what people mean; nil: there is none.
func (c *Talk) Ear() *hearing.Ear {
	if c.E.Guiding.Ear == nil {
		return nil
	}
	return c.E.Guiding.Ear()
}

// Puzzled notes that an input was not understood at once, in the form in which that is kept.
func (c *Talk) Puzzled() {
	if ear := c.Ear(); ear != nil && !c.Heard().Taught {
		c.Missed = ear.Phrase(c.In.Text, c.Situation())
	}
}

// Situation is what is going on where something is typed.
func (c *Talk) Situation() hearing.Situation {
	sit := hearing.At(&c.F.Shop.Settings, c.Kit, when.WordsOf(c.V.List), c.Today())
	sit.Naming, sit.Taught = c.Screen().Free, c.F.Ask.Taught
	return sit
}

// meansCommand gives the command whose words a text begins with, and what it has behind them.
// What is more than a command takes is a sentence, which is heard like any other.
func (c *Talk) meansCommand(cmd *Command, rest string) (*Command, string) {
	if cmd == nil || c.E.Guiding.Ear == nil {
		return cmd, rest
	}
	if !cmd.Dated && rest != c.low() {
		rest = hearing.Bare(rest)
	}
	sit := c.Situation()
	if rest == "" || cmd.Takes != NoWords && sit.Takes(rest) || rest == c.low() { // no word of its own
		return cmd, rest
	}
	if means, takes := c.Heard().Begun(cmd.Name, rest, sit); means {
		return cmd, takes
	}
	return nil, ""
}
