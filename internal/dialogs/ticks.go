package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
)

// ticks are what remains to be done after an opening is recorded.
func (c *talk) ticks() []string {
	list := []string{"boxes", "clean"}
	if c.f.Shop.Checked {
		list = append(list, "checked")
	}
	list = append(list, "typed", "total")
	if c.kit.TestDispense {
		list = append(list, "test")
	}
	return append(list, "locked")
}

// ticksKey names the card of a checklist, and the deadline at which it is asked again.
func ticksKey(no int64) string { return ticksName + strconv.FormatInt(no, 10) }

// askTicks shows the checklist of a period in place of the tapped card, and
// sees to it that it is asked again.
func (c *talk) askTicks(p *books.Period, head string) {
	old := c.key()
	c.end()
	c.inPlace(old, c.ticksCard(p, head))
	c.climb(ticksKey(p.No), c.in.At, reminders.Ticks)
}

func (c *talk) ticksCard(p *books.Period, head string) Reply {
	if p.Status != books.Open {
		return c.ticksList(p, head, c.v.Say("night.head"))
	}
	return c.ticksList(p, head, c.v.Say("ticks.head"))
}

func (c *talk) ticksList(p *books.Period, head, todo string) Reply {
	lines := []string{head, todo}
	for _, t := range p.Ticks {
		lines = append(lines, "- "+c.tick(p, t))
	}
	no := strconv.FormatInt(p.No, 10)
	return Reply{Key: ticksKey(p.No), Body: []Block{text(lines...)}, Buttons: [][]Button{
		c.button("all-done", "o:ticks:"+no+".done"),
		c.button("different", "o:ticks:"+no+".different"),
		c.button("customers", "o:ticks:"+no+".customers"),
	}}
}

// tick words one thing to do, with the figures it needs.
func (c *talk) tick(p *books.Period, id string) string {
	var notes []string
	for _, b := range p.Boxes {
		notes = append(notes, c.v.Number(b.Loaded))
	}
	printed := ""
	if id == "total" && slipDiffers(p) {
		id, printed = "total-differs", c.v.Money(*p.Total)
	}
	return c.v.Say("tick."+id, "numbers", strings.Join(notes, ", "), "total", c.v.Money(p.Loaded().Value()),
		"printed", printed)
}

// slipDiffers reports whether the last printed total that was typed in is not
// what was put in: one that agrees settles it, a tick does not.
func slipDiffers(p *books.Period) bool { return p.Total != nil && !p.Total.Equal(putIn(p)) }

// keepsOpen reports whether a tick is not given by a tap for all of them: one
// asks how, and a slip that differs waits for the right total.
func keepsOpen(p *books.Period, tick string) bool {
	return tick == "checked" || tick == "total" && slipDiffers(p)
}

// standing answers a tap on a card that stands by itself.
func (c *talk) standing(t Tapped) {
	s, ok := c.e.cards[t.Choice]
	if !ok {
		c.Notice = c.v.Say("notice.unknown")
		return
	}
	s.tap(c, t.Arg)
}

// ticksTap answers a tap on the checklist.
func (c *talk) ticksTap(arg string) {
	no, action, _ := strings.Cut(arg, ".")
	period, err := strconv.ParseInt(no, 10, 64)
	p := c.m.Period(period)
	if err != nil || p == nil {
		c.Notice = c.v.Say("notice.unknown")
		return
	}
	c.edit = ticksKey(p.No)
	switch {
	case action == "show":
		c.edit = ""
		c.showTicks(p)
	case action == "customers":
		c.edit = ""
		c.say(c.v.Say("customers-ticks"))
	case len(p.Ticks) == 0:
		c.Notice = c.v.Say("notice.ticked")
		c.ticked(p)
	case action == "done":
		c.tickAll(p)
	case action == "different":
		c.edit = ""
		c.enterDifferent(c.e, p)
	case strings.HasPrefix(action, "checked-") && slices.Contains(checkedHow, strings.TrimPrefix(action, "checked-")):
		c.recordTicks(p, "checked", strings.TrimPrefix(action, "checked-"))
		c.ticked(c.m.Period(p.No))
	default:
		c.edit = ""
		c.Notice = c.v.Say("notice.unknown")
	}
}

// checkedHow are the ways notes are checked for authenticity and fitness.
var checkedHow = []string{"device", "person", "bank"}

// tickAll records every open tick that a tap for all of them may give.
func (c *talk) tickAll(p *books.Period) {
	var done []string
	for _, t := range p.Ticks {
		if !keepsOpen(p, t) {
			done = append(done, t)
		}
	}
	if len(done) > 0 {
		if _, err := c.record(books.Record{Kind: books.Checks, Period: p.No, Ticks: done}); err != nil {
			c.refuse(err)
			return
		}
	}
	p = c.m.Period(p.No)
	if slices.Contains(p.Ticks, "total") {
		c.Notice = c.v.Say("notice.slip")
	}
	if !slices.Contains(p.Ticks, "checked") {
		c.ticked(p)
		return
	}
	c.amend(c.howChecked(p))
}

// howChecked asks how the notes were checked, where the law asks a shop to.
func (c *talk) howChecked(p *books.Period) Reply {
	r := Reply{Key: ticksKey(p.No), Body: []Block{{Text: c.v.Say("ticks.how")}}}
	for _, how := range checkedHow {
		r.Buttons = append(r.Buttons, c.button("checked-"+how, "o:ticks:"+strconv.FormatInt(p.No, 10)+".checked-"+how))
	}
	return r
}

// showTicks shows a checklist again, as a new message.
func (c *talk) showTicks(p *books.Period) {
	r := c.ticksCard(p, c.tickHead(p))
	r.Retire = ticksKey(p.No)
	c.post(r)
}

// tickHead says what a checklist belongs to.
func (c *talk) tickHead(p *books.Period) string {
	if p.Status == books.Open {
		notes := int64(0)
		for _, b := range p.Boxes {
			notes += b.Loaded
		}
		return c.v.Count("opened", notes, "when", c.clock(p.Opened), "money", c.v.Money(p.Loaded().Value()))
	}
	if p.Status == books.Waiting {
		return c.v.Say("counted", "when", c.clock(p.CountedAt))
	}
	return c.closedHead(p)
}

func (c *talk) recordTicks(p *books.Period, tick, how string) {
	if _, err := c.record(books.Record{Kind: books.Checks, Period: p.No, Ticks: []string{tick, tick + "." + how}}); err != nil {
		c.refuse(err)
	}
}

// ticked closes the checklist's card, or shows on it what is still open.
func (c *talk) ticked(p *books.Period) {
	if len(p.Ticks) > 0 {
		c.amend(c.ticksList(p, c.tickHead(p), c.v.Say("ticks.open")))
		return
	}
	c.deadline(ticksKey(p.No), time.Time{})
	c.amend(Reply{Key: ticksKey(p.No),
		Body: []Block{text(c.tickHead(p), c.v.Say("ticks.done", "when", c.clock(c.in.At)))}})
}

func differentFlow() *flow {
	return &flow{
		name: doDifferent, title: "different", version: 1, start: func(*talk) {},
		safe: safeOpen, presence: outOfWay, company: oneAtATime, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesNothing, stopped: countStays,
		rights: rights{access.Counting, anyPhone, onceSetUp},
		cards:  []standing{{name: doTicks, tap: (*talk).ticksTap}},
		screens: map[string]screen{
			"which": pick{head: askDifferent, options: doubtfulTicks, taps: map[string]func(*talk){"rest": restDone},
				foot: func(c *talk) [][]Button { return [][]Button{c.button("rest-done", "rest")} },
				what: "what.different"}.screen(),
		},
	}
}

func (c *talk) enterDifferent(e *Engine, p *books.Period) {
	if f := c.flow(); f != nil && f != e.flows[doDifferent] {
		c.say(c.v.Say("finish-first", "what", c.v.Say("flow."+f.title)))
		c.redraw()
		return
	}
	c.enter(doDifferent)
	c.State.Draft.Period = p.No
	c.goTo("which")
	c.show()
}

func askDifferent(c *talk) *card {
	p := c.m.Period(c.State.Draft.Period)
	if p == nil || len(p.Ticks) == 0 {
		c.close(Block{Text: c.v.Say("ticks.done", "when", c.clock(c.in.At))})
		return nil
	}
	return asking("different")(c)
}

// doubtfulTicks are those that can still be said not to be as they should be;
// whoever says so is told what to do.
func doubtfulTicks(c *talk) (list []option) {
	p := c.m.Period(c.State.Draft.Period)
	if p == nil {
		return nil
	}
	for _, t := range p.Ticks {
		if c.chosen("bad."+t) == "" {
			list = append(list, option{label: c.v.Say("button.tick-" + t), value: t, take: func(c *talk) {
				c.choose("bad."+t, "yes")
				c.first(c.v.Say("advice." + t))
			}})
		}
	}
	return list
}

// restDone records the ticks nobody found fault with; the others stay open.
func restDone(c *talk) {
	p := c.m.Period(c.State.Draft.Period)
	var done, left []string
	for _, t := range p.Ticks {
		switch {
		case c.chosen("bad."+t) != "", t == "total" && slipDiffers(p):
			left = append(left, "- "+c.tick(p, t))
		case !keepsOpen(p, t):
			done = append(done, t)
		}
	}
	if len(done) > 0 {
		r := books.Record{Kind: books.Checks, Period: p.No, Ticks: done}
		if len(left) > 0 {
			r.Marks = []books.Mark{books.Different}
		}
		if _, err := c.record(r); err != nil {
			c.refuse(err)
			return
		}
	}
	p = c.m.Period(p.No)
	if slices.Contains(p.Ticks, "checked") && c.chosen("bad.checked") == "" {
		defer func() { c.post(c.howChecked(p)) }()
	}
	if len(left) == 0 {
		c.close(Block{Text: c.v.Say("ticks.noted")})
		return
	}
	c.climb(ticksKey(p.No), c.in.At, reminders.Ticks)
	c.close(text(append([]string{c.v.Say("ticks.left")}, left...)...))
}

// dayMoments are words about the checklist, and the checklist left open.
func dayMoments() moments {
	return moments{
		weighs: func(c *talk, f *flow, cmd *command, _ string) (*command, bool) {
			return cmd, f == nil && !c.quiet() && c.checkedTyped()
		},
		matters: []matter{{prefix: ticksName, task: reminders.Ticks, began: ticksBegan, tell: (*talk).tellTicks}},
	}
}
