package engine

import (
	"maps"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/telling"
)

// A dialog that an older program had under way is not gone on with: its draft may mean something else by now.
// The person is told so, with the figures typed so far, and may take them over: they are then typed again,
// screen by screen, and looked at like any other answer.

// renew puts the dialog under way aside if an older program, or an older form of its dialog, wrote it down.
func (c *Talk) renew() {
	st := &c.State
	old := st.V != chat.StateFormat
	st.V = chat.StateFormat
	f := c.Flow()
	if st.Flow == "" || f != nil && !old && st.Draft.V == f.Version && c.openDraft() == nil {
		return
	}
	if f == nil {
		c.End()
		return
	}
	c.recall(f)
	told, retyped := telling.TypedBefore(c.Teller, c.answered())
	s, known := f.Screens[st.Step]
	draft := chat.Draft{Happened: st.Draft.Happened, Photos: st.Draft.Photos, V: 1,
		Renewed: &chat.Renewed{Flow: f.Name, Told: told, Retyped: retyped,
			Works: f.Presence == AtWork, Blind: s.Blind || !known, Code: s.code || st.Code}}
	if !f.Lasts {
		draft.Renewed.Period = st.Draft.Period
	}
	st.Flow, st.Step, st.Draft, c.draft = doRenewed, "ask", draft, nil
	st.Rev++
	c.older = true
}

// recall makes what was answered under an older form readable, as far as it is needed to tell the figures.
func (c *Talk) recall(f *Flow) {
	for name, v := range c.State.Draft.Counts {
		c.Put(name, v)
	}
	if f.Draft == nil {
		return
	}
	if c.draft = f.Draft(); f.Recall != nil {
		f.Recall(c, c.State.Draft.Choices)
	}
}

// retype gives an open screen the answer that is to be typed again there.
func (c *Talk) retype(f *Flow, step string) bool {
	again, ok := c.State.Draft.Retyped[step]
	if !ok {
		return false
	}
	delete(c.State.Draft.Retyped, step)
	return f.Screens[step].Answer != nil && f.Screens[step].Answer(c, again)
}

// toldOlder shows what became of the dialog of an older program. What came in
// was about a card of it, so it is not taken.
func (c *Talk) toldOlder() {
	if c.In.Kind == chat.Secret || c.In.Kind == chat.Proof {
		c.Drop()
	}
	c.State.Last = c.In.At
	if c.In.Kind == chat.Picture {
		c.picture()
		return
	}
	c.Show()
}

func RenewedFlow() *Flow {
	return &Flow{
		Name: doRenewed, Title: "renewed", Version: 1, Start: func(*Talk) {},
		Safe: SafeShut, Presence: AtWork, Company: SideBySide, Tells: TellsNothing, Again: AnswersAgain,
		Paper: OffPaper, Loses: losesTold, Stopped: renewedStopped,
		Rights: May(access.Everyone, AnyPhone, FromStart),
		Screens: map[string]Screen{"ask": {
			Ask: askRenewed, What: "what.renewed",
			Taps: map[string]func(*Talk){"take": takeRenewed, "again": againRenewed},
		}},
	}
}

// shows says what other people are told of the open card: that somebody works
// at the machine, that nobody may see figures, and that a code is typed. The
// card of a dialog of an older program says what the dialog's own said.
func (c *Talk) shows() (works, blind, code bool) {
	if r := c.State.Draft.Renewed; r != nil {
		return r.Works, r.Blind, r.Code
	}
	f := c.Flow()
	if f == nil {
		return false, false, false
	}
	s := f.Screens[c.State.Step]
	return f.Presence == AtWork, s.Blind, s.code
}

// beforeRenewed is the dialog that was under way, or nil.
func (c *Talk) beforeRenewed() *Flow {
	if r := c.State.Draft.Renewed; r != nil {
		return c.E.Flows[r.Flow]
	}
	return nil
}

// losesTold: the figures that are told can be taken over still.
func losesTold(c *Talk) bool { r := c.State.Draft.Renewed; return r != nil && r.Told != "" }

// sameRenewed answers the command for the dialog that was under way: with what
// was typed before, unless figures came with it.
func (c *Talk) sameRenewed(cmd *Command) {
	if c.Rest == "" && losesTold(c) {
		c.Redraw()
		return
	}
	cmd.Run(c)
}

func renewedStopped(c *Talk) string { return c.V.Say("renewed-stopped", "what", c.what()) }

// what names the dialog under way, or the one that an older program had under way.
func (c *Talk) what() string {
	f := c.Flow()
	if before := c.beforeRenewed(); before != nil {
		f = before
	}
	return c.V.Say("flow." + f.Title)
}

func askRenewed(c *Talk) *Card {
	r, f := c.State.Draft.Renewed, c.beforeRenewed()
	if f == nil {
		c.Close(chat.Block{Text: c.V.Say("nothing-to-cancel")})
		return nil
	}
	what := c.what()
	if r.Told == "" {
		return &Card{Body: []chat.Block{{Text: c.V.Say("renewed", "what", what)}},
			Buttons: [][]chat.Button{c.Button("renewed-again", "again")}}
	}
	k := &Card{Body: []chat.Block{{Text: c.V.Say("renewed-typed", "what", what, "counts", r.Told)}}}
	switch {
	case c.overtakenSince(r):
		k.Body = append(k.Body, chat.Block{Text: c.V.Say("renewed-closed")})
	case len(r.Retyped) > 0:
		k.Buttons = append(k.Buttons, c.Button("renewed-take", "take"))
	}
	k.Buttons = append(k.Buttons, c.Button("renewed-count", "again"))
	return k
}

// overtakenSince: the figures were about a period that is closed or taken back by
// now, so that they would be taken for the next one.
func (c *Talk) overtakenSince(r *chat.Renewed) bool {
	p := c.M.Period(r.Period)
	return r.Period != 0 && (p == nil || p.Status == books.Closed)
}

func takeRenewed(c *Talk) {
	if r := c.State.Draft.Renewed; !c.overtakenSince(r) {
		c.beginRenewed(maps.Clone(r.Retyped))
	}
}

func againRenewed(c *Talk) { c.beginRenewed(nil) }

// beginRenewed begins the dialog that was under way, at the time it was about
// and with the photos that were sent for it.
func (c *Talk) beginRenewed(retyped map[string]string) {
	f, photos := c.beforeRenewed(), c.State.Draft.Photos
	if !c.May(f.Name) {
		c.mayNot(f.Name)
		return
	}
	c.Enter(f.Name)
	c.State.Draft.Photos, c.State.Draft.Retyped = photos, retyped
	f.Start(c)
	if now := c.Flow(); now != nil && now.Screens[c.State.Step].Ask == nil {
		// It begins at a tap or with words that came with its command.
		c.Close(chat.Block{Text: c.V.Say("renewed-say")})
	}
}

// outlived ends a dialog that was left open until its period was no longer at
// hand: others closed it and went on, or its opening was taken back.
func (c *Talk) outlived() bool {
	f, no := c.Flow(), c.State.Draft.Period
	if f == nil || f.Lasts || c.In.Kind == chat.Remind || c.M.ID != c.State.Machine || c.M.Period(no) != nil {
		return false
	}
	if c.In.Kind == chat.Secret {
		c.Drop()
	}
	c.Close(chat.Block{Text: telling.Refusal(c.Teller, &books.Refusal{Code: books.DayUnknown, Period: no})})
	return true
}
