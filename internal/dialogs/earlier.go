package dialogs

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/counts"
	"shopfloat/internal/when"
)

// earlierFlow enters something that happened before, like a day kept on paper.
func earlierFlow() *flow {
	return &flow{
		name: doEarlier, title: "earlier", version: 1, start: startEarlier,
		safe: safeShut, presence: outOfWay, company: oneAtATime, tells: tellsNothing, again: begunAgain,
		paper: offPaper, loses: losesNothing, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		commands: []command{{name: doEarlier, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{
			"when": {ask: askWhen, answer: answerWhen, what: "what.when", dates: true},
			"what": pick{head: askWhat, options: (*talk).paperOptions, what: "what.earlier"}.screen(),
			"closed": {ask: (*talk).askClosedDay, what: "what.correct", taps: map[string]func(*talk){
				"correct": (*talk).correctThatDay, "other-time": startEarlier}},
		},
	}
}

// onPaper are the dialogs that the paper form has a part for, in its order.
func (e *Engine) onPaper() []*flow {
	list := slices.DeleteFunc(slices.Clone(e.listed), func(f *flow) bool { return f.part == 0 })
	slices.SortFunc(list, func(a, b *flow) int { return a.part - b.part })
	return list
}

// fromPaper begins one of the dialogs at the time in the draft. A day that is
// closed takes nothing more but moves that have no part in the machine.
func (c *talk) fromPaper(f *flow) {
	why, p := c.closedThen()
	if f.paper == anyDay || why == "" {
		c.enter(f.name)
		f.start(c)
		return
	}
	if p == nil {
		c.first(why) // an opening or another time can be chosen on the same card
		return
	}
	c.goTo("closed")
}

func startEarlier(c *talk) {
	c.State.Draft.Happened = time.Time{}
	c.goTo("when")
	if c.rest != "" && !answerWhen(c, c.rest) {
		c.first(c.v.Say("not-time", "near", c.rest))
	}
}

func askWhen(c *talk) *card {
	return &card{body: []Block{{Text: c.v.Say("ask.when", "example", c.exampleTime())}}}
}

// exampleTime is a time of yesterday as somebody may type it.
func (c *talk) exampleTime() string {
	return c.local(c.in.At).AddDate(0, 0, -1).Format("2.1.") + " 06:40"
}

func answerWhen(c *talk, s string) bool {
	t, ok := c.parseWhen(s)
	switch {
	case !ok:
		return false
	case t.After(c.in.At):
		c.first(c.v.Say("when-future", "when", c.dayClock(t), "now", c.dayClock(c.in.At)))
		return true
	case c.in.At.Sub(t) > earliest:
		c.first(c.v.Say("when-long-ago"))
		return true
	}
	c.State.Draft.Happened = t.UTC()
	c.goTo("what")
	return true
}

// forNow says that a dialog begun at the question for the time is for now, as no
// time from earlier was understood yet.
func (c *talk) forNow(f *flow) {
	if c.screen().dates && f.paper != offPaper {
		c.first(c.v.Say("no-time-yet"))
	}
}

// earliest is how far back something may be entered.
const earliest = when.LatelyDays * 24 * time.Hour

func askWhat(c *talk) *card {
	t := c.local(c.State.Draft.Happened)
	return &card{body: []Block{{Text: c.v.Say("ask.what", "when", c.v.Day(t)+", "+c.v.Clock(t))}}}
}

// paperOptions are the dialogs of the paper form that the speaker may use.
func (c *talk) paperOptions() (list []option) {
	for _, f := range c.e.onPaper() {
		if c.may(f.name) {
			list = append(list, option{label: c.v.Say("button.earlier-" + f.name), value: f.name,
				take: func(c *talk) { c.fromPaper(f) }})
		}
	}
	return list
}

// amount reads money as people type it.
func (c *talk) amount(s string) (decimal.Decimal, bool) {
	text, code := counts.ParseAmount(s, c.minorDigits())
	if code != counts.OK {
		return decimal.Zero, false
	}
	return amountOf(text), true
}
