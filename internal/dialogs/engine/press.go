package engine

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/texts"
)

// Key names the dialog's newest card within its chat.
func (c *Talk) Key() string { return "d" + strconv.Itoa(c.State.Rev) }

// press answers a tap. A card that is not the newest one books nothing.
func (c *Talk) press() {
	t, ok := chat.ParseTap(c.In.Tap)
	elsewhere := t.Machine != 0 && t.Machine != c.M.ID
	busy := c.Flow() != nil && c.M.ID != c.State.Machine
	stale := c.State.Flow == "" || t.Rev != c.State.Rev
	switch {
	case !ok:
		c.Notice = c.V.Say("notice.unknown")
	case !t.Dialog && !c.May(t.Choice):
		c.Notice = c.V.Say("notice.may-not")
	case !t.Dialog && elsewhere:
		c.Notice = c.V.Say("notice.elsewhere")
	case !t.Dialog && busy:
		c.Notice = c.V.Say("finish-first", "what", c.V.Say("flow."+c.Flow().Title))
	case !t.Dialog:
		c.standing(t)
	case stale:
		c.Notice = c.V.Say("notice.stale")
		c.Redraw()
	default:
		c.tapped(t.Choice)
	}
}

// Redraw shows the open card again, as a new message.
func (c *Talk) Redraw() {
	f := c.Flow()
	if f == nil {
		return
	}
	if !c.older && !(f.Safe == SafeOpen && c.warns()) { // the warning is long, and the card names itself
		c.First(c.V.Say("back-to", "what", c.what()))
	}
	c.Show()
}

// BackTo shows the open card again after something else was said; a view does not come back.
func (c *Talk) BackTo() {
	if f := c.Flow(); f != nil && !c.passes(f) {
		c.Redraw()
	}
}

// tapped answers a tap on the newest card.
func (c *Talk) tapped(choice string) {
	f := c.Flow()
	s := f.Screens[c.State.Step]
	if f.Tells == TellsFigures && c.Hidden() {
		c.Edit = c.Key()
		c.curtain(f)
		return
	}
	if choice == "what" {
		c.Say(c.V.Say(s.What))
		c.Redraw()
		return
	}
	if c.In.Kind == chat.Press {
		c.Edit = c.Key()
	}
	switch choice {
	case "cancel":
		c.Close(chat.Block{Text: f.Stopped(c)})
		return
	case "unfold":
		c.unfolded = true
		c.Show()
		return
	case "customers":
		c.lockFirst(f, "customers")
		return
	case "go-on", "just-now":
		c.stay(choice == "just-now")
		return
	case "leave":
		c.leave(f)
		return
	case "did":
		c.happened(f)
		return
	}
	if c.stood(f, choice) || c.anotherDay(f, "") {
		return
	}
	if tap := s.Taps[choice]; tap != nil {
		tap(c)
	} else if s.Tap == nil || !s.Tap(c, choice) {
		c.Edit = ""
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	c.taken()
}

// typedButton takes the words of a button on the newest card for a tap. Where one tap books, and
// on cards that stand by themselves, it is to be tapped.
func (c *Talk) typedButton() bool {
	low := texts.Plain(c.In.Text)
	i := slices.IndexFunc(c.State.Shown, func(b chat.Button) bool { return texts.Plain(b.Label) == low })
	if i < 0 || low == "" {
		return false
	}
	t, _ := chat.ParseTap(c.State.Shown[i].Data)
	cmd, rest := c.Command()
	if !t.Dialog {
		if !c.Wordy(t) {
			return false
		}
		c.PressTyped(c.State.Shown[i].Data)
	} else if c.State.Flow == "" || t.Rev != c.State.Rev || c.passes(c.Flow()) && cmd != nil && rest == "" {
		return false
	} else if t.Choice == "yes" && low != texts.Plain(c.V.Say("button.yes")) {
		c.chosen("confirm-yes") // to erase something, and the like
	} else {
		c.chosen(t.Choice)
	}
	c.sayNotice()
	return true
}

// Wordy reports whether the words of a button that stands by itself are as good as a tap.
func (c *Talk) Wordy(t chat.Tapped) bool {
	typed := c.E.cards[t.Choice].Typed
	return typed != nil && typed(t.Arg)
}

// PressTyped taps a button that stands by itself, whose words were typed.
func (c *Talk) PressTyped(data string) {
	c.In.Tap = data
	c.press()
	c.sayNotice()
}

// sayNotice says what would stand above the chat for a moment after a tap.
func (c *Talk) sayNotice() {
	if c.Notice != "" {
		c.Say(c.Notice)
		c.Notice = ""
	}
}

// chosen takes a choice whose words were typed. What books is shown again: nothing but a tap books.
func (c *Talk) chosen(choice string) {
	if strings.HasPrefix(choice, "confirm") {
		stands := func(b chat.Button) bool { return b.Label == c.V.Say("button.confirm") }
		c.First(c.V.Say(texts.Either(slices.ContainsFunc(c.State.Shown, stands), "tap-confirm", "tap-button")))
		c.Show()
		return
	}
	c.tapped(choice)
}

// lockFirst puts the dialog aside while customers are in the shop, or its person is gone.
func (c *Talk) lockFirst(f *Flow, why string) {
	c.State.Rev++
	c.Send(chat.Reply{
		Body:    []chat.Block{{Text: c.V.Say(why, "what", c.V.Say("flow."+f.Title))}},
		Buttons: chat.Tagged(c.State.Rev, [][]chat.Button{c.Button("go-on", "go-on")}), Key: c.Key(), Edit: c.Edit,
	})
	c.Edit = ""
}

// standing answers a tap on a card that stands by itself.
func (c *Talk) standing(t chat.Tapped) {
	s, ok := c.E.cards[t.Choice]
	if !ok {
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	s.Tap(c, t.Arg)
}
