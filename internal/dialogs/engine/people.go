package engine

import (
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
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

// Photos: how many go with one record, and how long after a record one is
// still taken as belonging to it.
const (
	maxPhotos = 5
	photoTime = 30 * time.Minute
)
