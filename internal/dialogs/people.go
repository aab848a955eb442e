package dialogs

import (
	"slices"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

// stale is how old a dialog is that no longer gets in anybody's way: somebody
// walked off. A count that is overtaken is shown again before it books.
const stale = 3 * time.Hour

func (c *talk) stale(a Activity) bool { return c.in.At.Sub(a.Since) >= stale }

// busy finds another person's dialog at this machine that f would get in the way of.
func (c *talk) busy(f *flow) *Activity {
	if f.company == sideBySide {
		return nil
	}
	for i := range c.f.Others {
		if a := &c.f.Others[i]; !c.stale(*a) && (!c.e.counts(a.Flow).second || f.count != nil && f.count.second) {
			return a
		}
	}
	return nil
}

// busyFlow asks whether to take over from another person who is at work.
func busyFlow() *flow {
	return &flow{
		name: doBusy, title: "busy", version: 1, start: func(*talk) {}, screens: map[string]screen{"ask": busyScreen()},
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: othersStay,
		rights: rights{access.Counting, anyPhone, onceSetUp},
	}
}

// askTakeOver tells who is at work at the machine, and offers to take over.
func (c *talk) askTakeOver(f *flow, a Activity) {
	c.enter(doBusy)
	c.goTo("ask")
	c.choose("want", f.name)
	c.choose("rest", c.rest)
	c.show()
}

// busyScreen looks each time whether anybody is in the way still.
func busyScreen() screen {
	return screen{
		ask: func(c *talk) *card {
			want := c.e.flows[c.chosen("want")]
			a := c.busy(want)
			if a == nil {
				c.takeUp(want)
				return nil
			}
			return &card{
				body: []Block{{Text: c.v.Say("busy", "who", c.name(a.Person), "what", c.v.Say("flow."+c.e.title(a.Flow)),
					"when", c.clock(a.Since))}},
				buttons: [][]Button{c.button("take-over", "take-over")},
			}
		},
		taps: map[string]func(*talk){"take-over": func(c *talk) {
			want := c.e.flows[c.chosen("want")]
			if a := c.busy(want); a != nil {
				c.TakeOver = a.Chat
				c.tellPerson(a.Person, Reply{Body: []Block{{
					Text: c.v.Say("told.taken-over", "who", c.f.Person.Name, "what", c.v.Say("flow."+c.e.title(a.Flow)))}}})
				c.f.Others = nil
			}
			c.takeUp(want)
		}},
		what: "what.busy",
	}
}

// takeUp begins the dialog that was waiting.
func (c *talk) takeUp(f *flow) {
	rest := c.chosen("rest")
	c.enter(f.name)
	c.rest = rest
	f.start(c)
}

func (e *Engine) title(flow string) string {
	if f := e.flows[flow]; f != nil {
		return f.title
	}
	return "busy"
}

// picture keeps a photo with the dialog under way, or with the speaker's last record.
func (c *talk) picture() {
	if c.pictures() {
		return
	}
	if f := c.flow(); f != nil {
		if len(c.State.Draft.Photos) >= maxPhotos {
			c.first(c.v.Say("photo-enough", "n", maxPhotos))
		} else {
			c.State.Draft.Photos = append(c.State.Draft.Photos, c.in.Photo)
			c.first(c.v.Say("photo-with", "what", c.v.Say("flow."+f.title)))
		}
		c.show()
		return
	}
	last := c.lastOwn()
	if last == nil || c.in.At.Sub(last.Recorded) > photoTime {
		c.say(c.v.Say("photo-nowhere"))
		return
	}
	r := books.Record{Kind: books.Attachment, Period: last.Period, Target: last.Seq, Photos: []books.Photo{c.in.Photo}}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
	}
	c.say(c.v.Say("photo-kept", "what", c.v.Say("kind."+string(last.Kind)), "when", c.clock(last.Happened)))
}

// lastOwn is the speaker's last record that holds, or nil.
func (c *talk) lastOwn() *books.Brief {
	for i := len(c.m.Recent) - 1; i >= 0; i-- {
		b := &c.m.Recent[i]
		if b.By == c.f.Person.ID && !b.Void && b.Kind != books.Undo && !slices.Contains(beside, b.Kind) {
			return b
		}
	}
	return nil
}
