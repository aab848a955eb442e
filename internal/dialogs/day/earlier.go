package day

import (
	"slices"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// EarlierFlow enters something that happened before, like a day kept on paper.
func EarlierFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoEarlier, Title: "earlier", Version: 1, Start: startEarlier,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.OneAtATime, Tells: engine.TellsNothing,
		Again: engine.BegunAgain, Paper: engine.OffPaper, Loses: engine.LosesNothing,
		Stopped: engine.NothingBooked, Rights: whoCounts,
		Commands: []engine.Command{{Name: engine.DoEarlier, Does: engine.StartsDialog, Help: engine.HelpMore,
			Takes: engine.AnyWords}},
		Screens: map[string]engine.Screen{
			"when": {Ask: askWhen, Answer: answerWhen, What: "what.when", Dates: true},
			"what": ask.Pick{Head: askWhat, Options: paperOptions, What: "what.earlier"}.Screen(),
			"closed": {Ask: askClosedDay, What: "what.correct", Taps: map[string]func(*engine.Talk){
				"correct": correctThatDay, "other-time": startEarlier}},
		},
	}
}

// onPaper are the dialogs that the paper form has a part for, in its order.
func onPaper(e *engine.Engine) []*engine.Flow {
	list := slices.DeleteFunc(slices.Clone(e.Listed), func(f *engine.Flow) bool { return f.Part == 0 })
	slices.SortFunc(list, func(a, b *engine.Flow) int { return a.Part - b.Part })
	return list
}

// fromPaper begins one of the dialogs at the time in the draft. A day that is
// closed takes nothing more but moves that have no part in the machine.
func fromPaper(c *engine.Talk, f *engine.Flow) {
	switch why, p := telling.ClosedThen(c.Teller, c.State.Draft.Happened); {
	case f.Paper == engine.AnyDay || why == "":
		c.Enter(f.Name)
		f.Start(c)
	case p == nil:
		c.First(why) // an opening or another time can be chosen on the same card
	default:
		c.GoTo("closed")
	}
}

func startEarlier(c *engine.Talk) {
	c.State.Draft.Happened = time.Time{}
	c.GoTo("when")
	if c.Rest != "" && !answerWhen(c, c.Rest) {
		c.First(c.V.Say("not-time", "near", c.Rest))
	}
}

// askWhen shows a time of yesterday as somebody may type it.
func askWhen(c *engine.Talk) *engine.Card {
	example := c.Local(c.In.At).AddDate(0, 0, -1).Format("2.1.") + " 06:40"
	return &engine.Card{Body: []chat.Block{{Text: c.V.Say("ask.when", "example", example)}}}
}

func answerWhen(c *engine.Talk, s string) bool {
	t, ok := ask.ParseWhen(c, s)
	switch {
	case !ok:
		return false
	case t.After(c.In.At):
		c.First(c.V.Say("when-future", "when", c.DayClock(t), "now", c.DayClock(c.In.At)))
		return true
	case c.In.At.Sub(t) > ask.Earliest:
		c.First(c.V.Say("when-long-ago"))
		return true
	}
	c.State.Draft.Happened = t.UTC()
	c.GoTo("what")
	return true
}

func askWhat(c *engine.Talk) *engine.Card {
	asks := c.V.Say("ask.what", "when", c.DayClock(c.State.Draft.Happened))
	return &engine.Card{Body: []chat.Block{{Text: asks}}}
}

// paperOptions are the dialogs of the paper form that the speaker may use.
func paperOptions(c *engine.Talk) (list []ask.Option) {
	for _, f := range onPaper(c.E) {
		if c.May(f.Name) {
			list = append(list, ask.Option{Label: c.V.Say("button.earlier-" + f.Name), Value: f.Name,
				Take: func(c *engine.Talk) { fromPaper(c, f) }})
		}
	}
	return list
}

// askClosedDay offers the correction of a closed day to those who may.
func askClosedDay(c *engine.Talk) *engine.Card {
	why, p := telling.ClosedThen(c.Teller, c.State.Draft.Happened)
	if p == nil {
		c.GoTo("what")
		return nil
	}
	k := &engine.Card{Body: []chat.Block{{Text: why}}}
	if c.May(engine.DoCorrect) {
		k.Buttons = append(k.Buttons, c.Button("correct-that-day", "correct"))
	}
	k.Buttons = append(k.Buttons, c.Button("other-time", "other-time"))
	return k
}

// correctThatDay goes over to the records of the closed day.
func correctThatDay(c *engine.Talk) {
	_, p := telling.ClosedThen(c.Teller, c.State.Draft.Happened)
	if p == nil || !c.May(engine.DoCorrect) {
		return
	}
	c.State.Draft.Happened = time.Time{} // a correction is made now
	instead(c, engine.DoCorrect, string(c.DayOf(p)))
}
