package dialogs

import (
	"strings"

	"shopfloat/internal/access"
)

// A dialog that an older program had under way is not gone on with: its draft
// may mean something else by now. The person is told so, with the figures typed
// so far, and may take them over: they are then typed again, screen by screen,
// and looked at like any other answer.

// renew puts the dialog under way aside if an older program, or an older form of
// its dialog, wrote it down.
func (c *talk) renew() {
	st := &c.State
	old := st.V != StateFormat
	st.V = StateFormat
	f := c.flow()
	if f != nil && !old && st.Draft.V == f.version || st.Flow == "" {
		return
	}
	if f == nil {
		c.end()
		return
	}
	told, retyped := c.typedBefore(f)
	draft := Draft{Happened: st.Draft.Happened, Photos: st.Draft.Photos, V: 1,
		Renewed: &Renewed{Flow: f.name, Told: told, Retyped: retyped}}
	st.Flow, st.Step, st.Draft = doRenewed, "ask", draft
	st.Rev++
	c.older = true
}

// typedBefore gives what was typed in a dialog so far and is in no record: in
// words, and by screen as it could be typed again.
func (c *talk) typedBefore(f *flow) (told string, retyped map[string]string) {
	var parts []string
	for _, q := range f.asks {
		list := q.Answered(c)
		if len(list) == 0 || q.Kept(c) {
			continue
		}
		part := strings.Join(list, ", ")
		if q.Noughts(c) {
			part = c.v.Say("part-none")
		}
		parts = append(parts, c.v.Say("part."+q.Called())+": "+part)
		if again := q.Retype(c); again != "" {
			if retyped == nil {
				retyped = map[string]string{}
			}
			retyped[q.Called()] = again
		}
		told = part
	}
	if len(parts) > 1 {
		told = strings.Join(parts, "; ")
	}
	return told, retyped
}

// retype gives an open screen the answer that is to be typed again there.
func (c *talk) retype(f *flow, step string) bool {
	again, ok := c.State.Draft.Retyped[step]
	if !ok {
		return false
	}
	delete(c.State.Draft.Retyped, step)
	return f.screens[step].answer != nil && f.screens[step].answer(c, again)
}

// toldOlder shows what became of the dialog of an older program. What came in
// was about a card of it, so it is not taken.
func (c *talk) toldOlder() {
	if c.in.Kind == Secret || c.in.Kind == Proof {
		c.drop()
	}
	c.State.Last = c.in.At
	c.show()
}

func renewedFlow() *flow {
	return &flow{
		name: doRenewed, title: "renewed", version: 1, start: func(*talk) {},
		safe: safeShut, presence: atWork, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: nothingBooked,
		rights: rights{access.Everyone, anyPhone, fromStart},
		screens: map[string]screen{"ask": {
			ask: askRenewed, blind: true, what: "what.renewed",
			taps: map[string]func(*talk){"take": takeRenewed, "again": againRenewed},
		}},
	}
}

// before is the dialog that was under way, or nil.
func (c *talk) beforeRenewed() *flow {
	if r := c.State.Draft.Renewed; r != nil {
		return c.e.flows[r.Flow]
	}
	return nil
}

func askRenewed(c *talk) *card {
	r, f := c.State.Draft.Renewed, c.beforeRenewed()
	if f == nil {
		c.close(Block{Text: c.v.Say("nothing-to-cancel")})
		return nil
	}
	what := c.v.Say("flow." + f.title)
	if r.Told == "" {
		return &card{body: []Block{{Text: c.v.Say("renewed", "what", what)}},
			buttons: [][]Button{c.button("renewed-again", "again")}}
	}
	k := &card{body: []Block{{Text: c.v.Say("renewed-typed", "what", what, "counts", r.Told)}}}
	if len(r.Retyped) > 0 {
		k.buttons = append(k.buttons, c.button("renewed-take", "take"))
	}
	k.buttons = append(k.buttons, c.button("renewed-count", "again"))
	return k
}

func takeRenewed(c *talk)  { c.beginRenewed(c.State.Draft.Renewed.Retyped) }
func againRenewed(c *talk) { c.beginRenewed(nil) }

// beginRenewed begins the dialog that was under way, at the time it was about
// and with the photos that were sent for it.
func (c *talk) beginRenewed(retyped map[string]string) {
	f, photos := c.beforeRenewed(), c.State.Draft.Photos
	if !c.may(f.name) {
		c.mayNot(f.name)
		return
	}
	c.enter(f.name)
	c.State.Draft.Photos, c.State.Draft.Retyped = photos, retyped
	f.start(c)
}
