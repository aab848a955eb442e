package dialogs

import "shopfloat/internal/reminders"

// moments are what a room sees to at the engine's own moments, beside its
// dialogs. Where several rooms want one moment they are asked in the order in
// which they are listed, until one has taken it. Nil is nothing.
type moments struct {
	// alarm hears words before anything else does: an emergency.
	alarm func(*talk) bool

	// opened answers a link that was made here.
	opened func(*Engine, State, Input, Facts) Result

	// beside hears words first that may be for what runs beside the dialog.
	beside func(*talk, *flow) bool

	// weighs looks at words and the command they begin with. It takes them, or
	// says which command they mean, if any.
	weighs func(c *talk, f *flow, cmd *command, rest string) (means *command, taken bool)

	// means names the command of words that do not begin with its own; empty for none.
	means func(c *talk, low string) string

	// stray hears words that are neither an answer nor a command.
	stray func(*talk, *flow) bool

	pictured  func(*talk) bool // takes a photo that is for no dialog
	redrawn   func(*talk)      // shows anew what stands beside the dialog
	cancelled func(*talk) bool // ends what runs beside, where no dialog is open
	due       func(*talk)      // answers a deadline
	after     func(*talk)      // looks at what a step leads to

	fresh  func(*talk)                 // says what comes next in a shop that is not set up
	which  func(*talk, string)         // asks which machine a dialog is about, before it begins
	week   func(*talk, reminders.Name) // tells the owners of the week before
	advice *advising

	matters []matter // that stay open until somebody sees to them
}

// advising says before an opening how much to load, and why.
type advising struct {
	advise func(*talk)
	button func(*talk) [][]Button
	why    func(*talk)
}

func (m moments) declare(e *Engine) {
	e.moments = append(e.moments, m)
	if m.opened != nil {
		e.opens = m.opened
	}
}

// first asks the rooms that want a moment until one has taken it.
func (e *Engine) first(ask func(moments) bool) bool {
	for _, m := range e.moments {
		if ask(m) {
			return true
		}
	}
	return false
}

func (c *talk) alarmed() bool {
	return c.e.first(func(m moments) bool { return m.alarm != nil && m.alarm(c) })
}

func (c *talk) forBeside(f *flow) bool {
	return c.e.first(func(m moments) bool { return m.beside != nil && m.beside(c, f) })
}

// weighed gives the command that words mean, or nil; taken says that they are answered.
func (c *talk) weighed(f *flow, cmd *command, rest string) (means *command, taken bool) {
	taken = c.e.first(func(m moments) bool {
		taken := false
		if m.weighs != nil {
			cmd, taken = m.weighs(c, f, cmd, rest)
		}
		return taken
	})
	return cmd, taken
}

func (c *talk) meant(low string) *command {
	name := ""
	c.e.first(func(m moments) bool {
		if m.means != nil {
			name = m.means(c, low)
		}
		return name != ""
	})
	return c.e.named(name)
}

func (c *talk) strays(f *flow) bool {
	return c.e.first(func(m moments) bool { return m.stray != nil && m.stray(c, f) })
}

func (c *talk) pictures() bool {
	return c.e.first(func(m moments) bool { return m.pictured != nil && m.pictured(c) })
}

func (c *talk) cancels() bool {
	return c.e.first(func(m moments) bool { return m.cancelled != nil && m.cancelled(c) })
}

// each lets every room that wants a moment have it.
func (c *talk) each(which func(moments) func(*talk)) {
	for _, m := range c.e.moments {
		if do := which(m); do != nil {
			do(c)
		}
	}
}

func (c *talk) showBeside() { c.each(func(m moments) func(*talk) { return m.redrawn }) }
func (c *talk) cameDue()    { c.each(func(m moments) func(*talk) { return m.due }) }
func (c *talk) ledTo()      { c.each(func(m moments) func(*talk) { return m.after }) }
func (c *talk) notSetUp()   { c.each(func(m moments) func(*talk) { return m.fresh }) }

// askWhich asks which machine a dialog is about.
func (c *talk) askWhich(name string) {
	c.each(func(m moments) func(*talk) {
		if m.which == nil {
			return nil
		}
		return func(c *talk) { m.which(c, name) }
	})
}

// tellTheWeek tells the owners of the week before.
func (c *talk) tellTheWeek(n reminders.Name) {
	c.each(func(m moments) func(*talk) {
		if m.week == nil {
			return nil
		}
		return func(c *talk) { m.week(c, n) }
	})
}

// advising is what says before an opening how much to load.
func (c *talk) advising() advising {
	none := func(*talk) {}
	found := advising{advise: none, button: func(*talk) [][]Button { return nil }, why: none}
	c.e.first(func(m moments) bool {
		if m.advice != nil {
			found = *m.advice
		}
		return m.advice != nil
	})
	return found
}

// openMatters lists what is asked for again until it is done.
func (e *Engine) openMatters() (list []matter) {
	for _, m := range e.moments {
		list = append(list, m.matters...)
	}
	return list
}
