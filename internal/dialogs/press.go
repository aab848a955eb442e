package dialogs

import (
	"strconv"
	"strings"

	"shopfloat/internal/shop"
)

// A button's payload is "d:<rev>:<choice>" for the dialog under way and
// "o:<action>:<argument>:<machine>" for a card that stands by itself. Both are short
// ASCII, far below the 64 bytes a button may carry.

// Tapped is a decoded payload.
type Tapped struct {
	Dialog bool
	Rev    int    // Dialog: the card's number
	Choice string // Dialog: what was chosen; else the action
	Arg    string // else: its argument

	Machine shop.MachineID // else: what it is about; 0 for a card from before machines were named
}

// maxPayload is the most bytes a button's payload may have.
const maxPayload = 64

// ParseTap decodes a payload as it came back from a chat. Anything that is not
// one of ours is refused.
func ParseTap(data string) (t Tapped, ok bool) {
	if len(data) > maxPayload {
		return t, false
	}
	parts := strings.Split(data, ":")
	if len(parts) == 4 && parts[0] == "o" {
		id, err := strconv.ParseInt(parts[3], 10, 64)
		if err != nil || id <= 0 || strconv.FormatInt(id, 10) != parts[3] {
			return t, false
		}
		t.Machine, parts = shop.MachineID(id), parts[:3]
	}
	if len(parts) != 3 || !plain(parts[1]) || !plain(parts[2]) {
		return Tapped{}, false
	}
	switch parts[0] {
	case "d":
		rev, err := strconv.Atoi(parts[1])
		if err != nil || rev <= 0 || strconv.Itoa(rev) != parts[1] || parts[2] == "" {
			return t, false
		}
		return Tapped{Dialog: true, Rev: rev, Choice: parts[2]}, true
	case "o":
		if parts[1] == "" {
			return Tapped{}, false
		}
		return Tapped{Choice: parts[1], Arg: parts[2], Machine: t.Machine}, true
	}
	return t, false
}

// TapMachine gives the machine that a tap on a card standing by itself is
// about; 0 for every other input.
func TapMachine(in Input) shop.MachineID {
	if in.Kind != Press {
		return 0
	}
	t, _ := ParseTap(in.Tap)
	return t.Machine
}

func plain(s string) bool {
	for _, r := range s {
		if (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '-' && r != '.' {
			return false
		}
	}
	return true
}

// tag turns choices into payloads of the card with the current number.
func (c *talk) tag(rows [][]Button) [][]Button {
	out := make([][]Button, 0, len(rows))
	for _, row := range rows {
		tagged := make([]Button, 0, len(row))
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

// key names the dialog's newest card within its chat.
func (c *talk) key() string { return "d" + strconv.Itoa(c.State.Rev) }

// button makes a row of one button; the label is a catalogue name.
func (c *talk) button(label, choice string, fill ...any) []Button {
	return []Button{{Label: c.v.Say("button."+label, fill...), Data: choice}}
}

// press answers a tap. A card that is not the newest one books nothing.
func (c *talk) press() {
	t, ok := ParseTap(c.in.Tap)
	switch {
	case !ok:
		c.Notice = c.v.Say("notice.unknown")
	case !t.Dialog && !c.may(t.Choice):
		c.Notice = c.v.Say("notice.may-not")
	case !t.Dialog && t.Machine != 0 && t.Machine != c.m.ID:
		c.Notice = c.v.Say("notice.elsewhere")
	case !t.Dialog && c.flow() != nil && c.m.ID != c.State.Machine:
		c.Notice = c.v.Say("finish-first", "what", c.v.Say("flow."+c.flow().title))
	case !t.Dialog:
		c.standing(t)
	case c.State.Flow == "" || t.Rev != c.State.Rev:
		c.Notice = c.v.Say("notice.stale")
		c.redraw()
	default:
		c.tapped(t.Choice)
	}
}

// redraw shows the open card again, as a new message.
func (c *talk) redraw() {
	f := c.flow()
	if f == nil {
		return
	}
	c.first(c.v.Say("back-to", "what", c.v.Say("flow."+f.title)))
	c.show()
}

// tapped answers a tap on the newest card.
func (c *talk) tapped(choice string) {
	f := c.flow()
	s := f.screens[c.State.Step]
	if f.tells == tellsFigures && c.hidden() {
		c.edit = c.key()
		c.curtain(f)
		return
	}
	switch choice {
	case "cancel":
		c.edit = c.key()
		c.close(Block{Text: f.stopped(c)})
		return
	case "what":
		c.say(c.v.Say(s.what))
		c.redraw()
		return
	case "customers":
		c.edit = c.key()
		c.lockFirst(f)
		return
	case "go-on":
		c.edit = c.key()
		c.State.Draft.Leave = nil
		c.show()
		return
	case "leave":
		c.edit = c.key()
		c.leave(f)
		return
	}
	c.edit = c.key()
	if tap := s.taps[choice]; tap != nil {
		tap(c)
	} else if s.tap == nil || !s.tap(c, choice) {
		c.edit = ""
		c.Notice = c.v.Say("notice.unknown")
		return
	}
	c.show()
}

// lockFirst puts the dialog aside while customers are in the shop.
func (c *talk) lockFirst(f *flow) {
	c.State.Rev++
	c.send(Reply{
		Body:    []Block{{Text: c.v.Say("customers", "what", c.v.Say("flow."+f.title))}},
		Buttons: c.tag([][]Button{c.button("go-on", "go-on")}), Key: c.key(), Edit: c.edit,
	})
	c.edit = ""
}

// leave ends the dialog under way for the command that waited.
func (c *talk) leave(f *flow) {
	l := c.State.Draft.Leave
	if l == nil {
		c.show()
		return
	}
	c.close(Block{Text: f.stopped(c)})
	c.rest = l.Rest
	if cmd := c.e.named(l.Command); cmd != nil && c.may(l.Command) {
		cmd.run(c)
	}
}
