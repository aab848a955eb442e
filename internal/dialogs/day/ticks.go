package day

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/lines"
	"shopfloat/internal/readback"
	"shopfloat/internal/reminders"
	"shopfloat/internal/tasks"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// doneTyped shows the list that waits to somebody who says that it is done: a tap ticks it, words do not.
func doneTyped(c *engine.Talk) bool {
	if !c.IsWord("list-done", texts.Plain(c.In.Text)) {
		return false
	}
	for _, p := range slices.Backward(c.M.Periods) {
		if len(p.Ticks) > 0 {
			showTicks(c, p)
			return true
		}
	}
	return false
}

// ticksTap answers a tap on the checklist.
func ticksTap(c *engine.Talk, arg string) {
	no, action, _ := strings.Cut(arg, ".")
	action, printed, _ := strings.Cut(action, ".")
	period, err := strconv.ParseInt(no, 10, 64)
	p := c.M.Period(period)
	if err != nil || p == nil {
		c.Notice = c.V.Say("notice.unknown")
		return
	}
	c.Edit = telling.TicksCardKey(c.Teller, p.No)
	how, ok := strings.CutPrefix(action, "checked-")
	trial, tried := strings.CutPrefix(action, "test-")
	switch {
	case action == "show":
		showTicks(c, p)
	case action == "customers":
		c.Edit = ""
		c.Say(c.V.Say("customers-ticks"))
	case len(p.Ticks) == 0:
		c.Notice = c.V.Say("notice.ticked")
		ticked(c, p)
	case !telling.TicksHold(c.Teller, p, printed): // it was printed under another list
		c.Notice = c.V.Say("notice.other-list")
		showTicks(c, p)
	case action == "done" && c.Pends():
		c.Edit = ""
		finishFirst(c)
	case action == "done":
		tickAll(c, p)
	case action == "different":
		c.Edit = ""
		enterDifferent(c, p)
	case ok && slices.Contains(checkedHow, how):
		booked(c, books.Record{Kind: books.Checks, Period: p.No, Ticks: []string{"checked", "checked." + how}})
		askNext(c, c.M.Period(p.No))
	case tried:
		triedTap(c, p, trial)
	default:
		c.Edit = ""
		c.Notice = c.V.Say("notice.unknown")
	}
}

// showTicks shows a checklist as a new message.
func showTicks(c *engine.Talk, p *books.Period) {
	c.Edit = ""
	r := telling.TicksCard(c.Teller, p, telling.TickHead(c.Teller, p))
	r.Retire = telling.TicksCardKey(c.Teller, p.No)
	c.Post(r)
}

// checkedHow are the ways notes are checked for authenticity and fitness.
var checkedHow = []string{"device", "person", "bank"}

// tickAll records every open tick that a tap for all of them may give.
func tickAll(c *engine.Talk, p *books.Period) {
	var done []string
	for _, t := range p.Ticks {
		if !telling.KeepsOpen(c.Teller, p, t) {
			done = append(done, t)
		}
	}
	var marks []books.Mark
	if c.In.At.Sub(p.TicksAt) <= atOnce {
		marks = append(marks, books.AtOnce)
	}
	if !tick(c, p, done, marks...) {
		return
	}
	p = c.M.Period(p.No)
	if slices.Contains(p.Ticks, "total") {
		c.Notice = c.V.Say("notice.slip")
	}
	askNext(c, p)
}

// atOnce is how soon after a list is shown nobody can have done what it says.
const atOnce = 5 * time.Second

// tick records ticks that are done. The test payout among them is booked first,
// in the way it went last time: a tick without it would leave its notes nowhere.
func tick(c *engine.Talk, p *books.Period, done []string, marks ...books.Mark) bool {
	if slices.Contains(done, "test") && !p.Tried && !booked(c, lines.TrialOf(p, c.M.Trial)) {
		return false
	}
	return len(done) == 0 ||
		booked(c, books.Record{Kind: books.Checks, Period: p.No, Ticks: done, Marks: marks})
}

// askNext asks what is not known from last time of what is done; else it shows what is left of the list.
func askNext(c *engine.Talk, p *books.Period) {
	switch {
	case slices.Contains(p.Ticks, "checked") && c.M.Checked == "":
		c.Amend(readback.HowChecked(c.Teller, p, checkedHow))
	case slices.Contains(p.Ticks, "test") && c.M.Trial.Where == "" && !p.Tried:
		c.Amend(readback.WhereTried(c.Teller, p, ask.TestPlaces))
	default:
		ticked(c, p)
	}
}

// triedTap takes where the notes of the test payout went, and asks whether the
// machine counted them; with that it is booked.
func triedTap(c *engine.Talk, p *books.Period, said string) {
	where, counted, both := strings.Cut(said, "-")
	place := books.Place(where)
	switch {
	case !slices.Contains(p.Ticks, "test"):
		ticked(c, p)
	case said == "none": // nothing came out: it stays to be done
		c.Amend(telling.TicksList(c.Teller, p, telling.TickHead(c.Teller, p), c.V.Say("ticks.open")))
	case !slices.Contains(ask.TestPlaces, place):
		c.Edit, c.Notice = "", c.V.Say("notice.unknown")
	case !both:
		tap := func(said string) string { return telling.TicksTap(c.Teller, p, "test-"+where+"-"+said) }
		c.Amend(chat.Reply{Key: telling.TicksCardKey(c.Teller, p.No), Body: []chat.Block{chat.Lines(
			c.V.Say("title-of", "what", c.V.Say("title.test"), "day", c.DayYear(c.DayOf(p))),
			c.V.Say("ticks.trial-counted", "trial", telling.TrialWord(p), "where", c.V.Say("place."+where)))},
			Buttons: [][]chat.Button{c.Button("yes", tap("yes")), c.Button("no", tap("no"))}})
	default:
		trial := books.Trial{Where: place, Counted: counted == "yes"}
		if p.Tried || booked(c, lines.TrialOf(p, trial)) {
			tick(c, c.M.Period(p.No), []string{"test"})
		}
		askNext(c, c.M.Period(p.No))
	}
}

// ticked closes the checklist's card, or shows on it what is still open.
func ticked(c *engine.Talk, p *books.Period) {
	if len(p.Ticks) > 0 {
		c.Amend(telling.TicksList(c.Teller, p, telling.TickHead(c.Teller, p), c.V.Say("ticks.open")))
		return
	}
	c.Deadline(telling.TicksKey(p.No), time.Time{})
	c.Amend(chat.Reply{Key: telling.TicksCardKey(c.Teller, p.No),
		Body: []chat.Block{chat.Lines(telling.TickHead(c.Teller, p),
			c.V.Say("ticks.done", "when", c.Clock(c.In.At)))}})
}

type differentDraft struct {
	Bad []string `json:"bad,omitempty"` // ticks that are not as they should be
}

// bad reports whether a tick was said not to be as it should be.
func bad(c *engine.Talk, tick string) bool {
	return slices.Contains(engine.Drafted[differentDraft](c).Bad, tick)
}

// DifferentFlow lets somebody say which points of the checklist are not as they should be.
func DifferentFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoDifferent, Title: "different", Version: 1, Start: func(*engine.Talk) {},
		Draft: func() any { return &differentDraft{} },
		Safe:  engine.SafeOpen, Presence: engine.OutOfWay, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: engine.LosesNothing, Stopped: ask.CountStays,
		Rights: whoCounts, Cards: []engine.Standing{{Name: engine.DoTicks, Tap: ticksTap,
			Typed: func(arg string) bool { return strings.Contains(arg, ".different.") }}},
		Screens: map[string]engine.Screen{
			"which": ask.Pick{Head: askDifferent, Options: doubtfulTicks, What: "what.different",
				Taps: map[string]func(*engine.Talk){"rest": restDone},
				Foot: func(c *engine.Talk) [][]chat.Button { return [][]chat.Button{c.Button("rest-done", "rest")} },
			}.Screen(),
		},
	}
}

func enterDifferent(c *engine.Talk, p *books.Period) {
	if f := c.Flow(); f != nil && f != c.E.Flows[engine.DoDifferent] {
		finishFirst(c)
		return
	}
	c.Enter(engine.DoDifferent)
	c.State.Draft.Period = p.No
	c.GoTo("which")
	c.Show()
}

// finishFirst shows the dialog under way again, which comes before a checklist.
func finishFirst(c *engine.Talk) {
	c.Say(c.V.Say("finish-first", "what", c.V.Say("flow."+c.Flow().Title)))
	c.Redraw()
}

func askDifferent(c *engine.Talk) *engine.Card {
	if p := ask.Target(c); p == nil || len(p.Ticks) == 0 {
		c.Close(chat.Block{Text: c.V.Say("ticks.done", "when", c.Clock(c.In.At))})
		return nil
	}
	return ask.Asking("different")(c)
}

// doubtfulTicks are those that can still be said not to be right; whoever says so is told what to do.
func doubtfulTicks(c *engine.Talk) (list []ask.Option) {
	p := ask.Target(c)
	if p == nil {
		return nil
	}
	for _, t := range p.Ticks {
		if !bad(c, t) {
			list = append(list, ask.Option{Label: c.V.Say("button.tick-" + t), Value: t, Take: func(c *engine.Talk) {
				d := engine.Drafted[differentDraft](c)
				d.Bad = append(d.Bad, t)
				c.First(c.V.Say("advice." + t))
			}})
		}
	}
	return list
}

// restDone records the ticks nobody found fault with; the others stay open.
func restDone(c *engine.Talk) {
	p := c.M.Period(c.State.Draft.Period)
	var done, left []string
	for _, t := range p.Ticks {
		switch {
		case bad(c, t), t == "total" && p.SlipDiffers():
			left = append(left, "- "+telling.Tick(c.Teller, p, t))
		case !telling.KeepsOpen(c.Teller, p, t):
			done = append(done, t)
		}
	}
	var marks []books.Mark
	if len(left) > 0 {
		marks = []books.Mark{books.Different}
	}
	if !tick(c, p, done, marks...) {
		return
	}
	p = c.M.Period(p.No)
	defer askRest(c, p, bad(c, "checked"), bad(c, "test"))
	if len(left) == 0 {
		c.Close(chat.Block{Text: c.V.Say("ticks.noted")})
		return
	}
	c.Climb(telling.TicksKey(p.No), c.In.At, reminders.Ticks)
	c.Close(chat.Lines(append([]string{c.V.Say("ticks.left")}, left...)...))
}

// Moments are words about the checklist, and the checklist left open.
func Moments() engine.Moments {
	return engine.Moments{
		Weighs: func(c *engine.Talk, f *engine.Flow, cmd *engine.Command, _ string) (*engine.Command, bool) {
			return cmd, f == nil && !c.Quiet() && doneTyped(c)
		},
		Matters: []engine.Matter{
			{Prefix: tasks.TicksName, Task: reminders.Ticks, Began: telling.TicksBegan, Tell: tellTicks}},
	}
}

// tellTicks shows the checklist again: to whoever opened, then to those above.
func tellTicks(c *engine.Talk, no int64, r reminders.Rung) {
	p := c.M.Period(no)
	head := c.V.Say(texts.Either(r.No > 1, "ticks.still", "ticks.again"), "when", c.Clock(p.Opened),
		"now", c.Clock(c.In.At))
	card := telling.TicksCard(c.Teller, p, head)
	card.Retire = telling.TicksCardKey(c.Teller, p.No)
	c.TellPeople(telling.WhoHas(c.Teller, p.By, c.DayOf(p), reminders.Ticks, r), card)
}

// askRest asks how it was done what nobody found fault with, as a message of its own.
func askRest(c *engine.Talk, p *books.Period, checked, test bool) {
	switch {
	case slices.Contains(p.Ticks, "checked") && !checked && c.M.Checked == "":
		c.Post(readback.HowChecked(c.Teller, p, checkedHow))
	case slices.Contains(p.Ticks, "test") && !test && !p.Tried && c.M.Trial.Where == "":
		c.Post(readback.WhereTried(c.Teller, p, ask.TestPlaces))
	}
}
