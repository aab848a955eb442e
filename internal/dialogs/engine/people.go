package engine

import (
	"slices"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/incidents"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// busy finds another person's dialog at this machine that f would get in the way of.
func (c *Talk) busy(f *Flow) *chat.Activity {
	if f.Company == SideBySide {
		return nil
	}
	for i := range c.F.Others {
		if a := &c.F.Others[i]; !c.Stale(*a) && (!c.E.Second(a.Flow) || f.Second) {
			return a
		}
	}
	return nil
}

// busyDraft is what waits while another person is at work.
type busyDraft struct {
	Want string `json:"want,omitempty"` // a dialog
	Rest string `json:"rest,omitempty"` // what followed its command
}

// wanted is the dialog that waits.
func (c *Talk) wanted() *Flow { return c.E.Flows[Drafted[busyDraft](c).Want] }

// BusyFlow asks whether to take over from another person who is at work.
func BusyFlow() *Flow {
	return &Flow{
		Name: doBusy, Title: "busy", Version: 1, Draft: func() any { return &busyDraft{} }, Start: func(*Talk) {},
		Screens: map[string]Screen{"ask": busyScreen()},
		Safe:    SafeShut, Presence: OutOfWay, Company: SideBySide, Tells: TellsNothing, Again: AnswersAgain,
		Paper: OffPaper, Loses: LosesNothing, Stopped: othersStay,
		Rights: May(access.Counting, AnyPhone, OnceSetUp),
	}
}

// askTakeOver tells who is at work at the machine, and offers to take over.
func (c *Talk) askTakeOver(f *Flow, a chat.Activity) {
	c.Enter(doBusy)
	c.GoTo("ask")
	*Drafted[busyDraft](c) = busyDraft{Want: f.Name, Rest: c.Rest}
	c.Show()
}

// busyScreen looks each time whether anybody is in the way still.
func busyScreen() Screen {
	return Screen{
		Ask: func(c *Talk) *Card {
			want := c.wanted()
			a := c.busy(want)
			if a == nil {
				c.takeUp(want)
				return nil
			}
			return &Card{
				Body: []chat.Block{
					{Text: c.V.Say("busy", "who", c.Name(a.Person), "what", c.V.Say("flow."+c.E.title(a.Flow)),
						"when", c.Clock(a.Since))},
				},
				Buttons: [][]chat.Button{c.Button("take-over", "take-over")},
			}
		},
		Taps: map[string]func(*Talk){"take-over": func(c *Talk) {
			want := c.wanted()
			if a := c.busy(want); a != nil {
				c.TakeOver = a.Chat
				c.TellPerson(a.Person, chat.Reply{Body: []chat.Block{{
					Text: c.V.Say("told.taken-over", "who", c.F.Person.Name, "what", c.V.Say("flow."+c.E.title(a.Flow)))}}})
				c.F.Others = nil
			}
			c.takeUp(want)
		}},
		What: "what.busy",
	}
}

// takeUp begins the dialog that was waiting.
func (c *Talk) takeUp(f *Flow) {
	rest := Drafted[busyDraft](c).Rest
	c.Enter(f.Name)
	c.Rest = rest
	f.Start(c)
}

func (e *Engine) title(flow string) string {
	if f := e.Flows[flow]; f != nil {
		return f.Title
	}
	return "busy"
}

// picture keeps a photo with the dialog under way, or with the speaker's last record.
func (c *Talk) picture() {
	if c.pictures() {
		return
	}
	if c.Flow() != nil {
		if len(c.State.Draft.Photos) >= maxPhotos {
			c.First(c.V.Say("photo-enough", "n", maxPhotos))
		} else {
			c.State.Draft.Photos = append(c.State.Draft.Photos, c.In.Photo)
			c.First(c.V.Say("photo-with", "what", c.what()))
		}
		c.Show()
		return
	}
	last := telling.LastOwn(c.M, c.F.Person.ID)
	if last == nil || c.In.At.Sub(last.Recorded) > photoTime {
		c.Say(c.V.Say("photo-nowhere"))
		return
	}
	r := books.Record{Kind: books.Attachment, Period: last.Period, Target: last.Seq,
		Photos: []books.Photo{c.In.Photo}}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
	}
	c.Say(c.V.Say("photo-kept", "what", c.V.Say("kind."+string(last.Kind)), "when", c.Clock(last.Happened)))
}

// Photos: how many go with one record, and how long after a record one is still taken as belonging to it.
const (
	maxPhotos = 5
	photoTime = 30 * time.Minute
)

// curtain ends a dialog whose cards would tell figures while somebody counts.
func (c *Talk) curtain(f *Flow) bool {
	if f.Tells == TellsNothing || !c.Hidden() {
		return false
	}
	c.Close(chat.Lines(telling.Counted(c.Teller)))
	return true
}

// hides reports whether somebody is counting this machine: nobody who may count sees what should be there.
func (c *Talk) hides() bool {
	if c.F.Person.ID != 0 && !access.Counting.Has(c.F.Person.Role) {
		return false
	}
	_, blind, _ := c.shows()
	return blind || slices.ContainsFunc(c.F.Others, func(a chat.Activity) bool { return telling.Blinds(c.M, a) })
}

// Robbed reports whether a robbery is on record at the machine that no manager has said is over.
func (c *Talk) Robbed() bool { return slices.ContainsFunc(c.M.Faults, incidents.Robbery) }

func Manages(p shop.Person) bool { return p.Acts().Manages() }

// warns reports whether a card at which the safe is open after a robbery begins with a caution.
func (c *Talk) warns() bool { return c.Robbed() && !c.Quiet() }

// Quiet: a robbery is under way in this chat, and nothing is asked, for an hour after it was last spoken of:
// else a false alarm would leave nobody to close.
func (c *Talk) Quiet() bool {
	w := c.State.Walk
	if w == nil || w.Guide != chat.Robbery || len(w.Taken) > 0 || c.In.At.Sub(w.Last) >= incidents.HushFor {
		return false
	}
	f := c.M.Fault(w.Fault)
	return f == nil || f.Unsolved() // a manager may have said meanwhile that it is over
}
