package engine

import (
	"strconv"
	"strings"

	"shopfloat/internal/chat"
)

// tag turns choices into payloads of the card with the current number.
func (c *Talk) tag(rows [][]chat.Button) [][]chat.Button {
	out := make([][]chat.Button, 0, len(rows))
	for _, row := range rows {
		tagged := make([]chat.Button, 0, len(row))
		for _, b := range row {
			if !strings.HasPrefix(b.Data, "o:") {
				b.Data = "d:" + strconv.Itoa(c.State.Rev) + ":" + b.Data
			}
			tagged = append(tagged, b)
		}
		if len(tagged) > 0 {
			out = append(out, tagged)
		}
	}
	return out
}

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
	if !c.older {
		c.First(c.V.Say("back-to", "what", c.what()))
	}
	c.Show()
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
	switch choice {
	case "cancel":
		c.Edit = c.Key()
		c.Close(chat.Block{Text: f.Stopped(c)})
		return
	case "unfold":
		c.Edit, c.unfolded = c.Key(), true
		c.Show()
		return
	case "what":
		c.Say(c.V.Say(s.What))
		c.Redraw()
		return
	case "customers":
		c.Edit = c.Key()
		c.lockFirst(f)
		return
	case "go-on":
		c.Edit = c.Key()
		c.stay()
		return
	case "leave":
		c.Edit = c.Key()
		c.leave(f)
		return
	case "did":
		c.Edit = c.Key()
		c.happened(f)
		return
	}
	c.Edit = c.Key()
	if c.anotherDay(f, "") {
		return
	}
	if tap := s.Taps[choice]; tap != nil {
		tap(c)
	} else if s.Tap == nil || !s.Tap(c, choice) {
		c.Edit = ""
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	c.Show()
}

// lockFirst puts the dialog aside while customers are in the shop.
func (c *Talk) lockFirst(f *Flow) {
	c.State.Rev++
	c.Send(chat.Reply{
		Body:    []chat.Block{{Text: c.V.Say("customers", "what", c.V.Say("flow."+f.Title))}},
		Buttons: c.tag([][]chat.Button{c.Button("go-on", "go-on")}), Key: c.Key(), Edit: c.Edit,
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
