package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// ending is the month that is to be finished.
type ending struct {
	Month string `json:"month,omitempty"` // like 2026-11
}

// FinishMonthFlow finishes a month: from then on its figures stay.
func FinishMonthFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoFinishMonth, Title: "finish-month", Version: 1, Draft: func() any { return &ending{} },
		Start: func(c *engine.Talk) { c.GoTo("review") },
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide,
		Tells: engine.TellsFigures, Again: engine.AnswersAgain, Paper: engine.OffPaper,
		Loses: engine.LosesNothing, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Keeping, engine.OwnPhone, engine.OnceSetUp),
		Cards:  []engine.Standing{{Name: engine.DoFinishMonth, Tap: tapFinish}},
		Screens: map[string]engine.Screen{"review": ask.Booking{Read: readFinish, Book: bookFinish,
			Sure: "finish-it", What: "what.finish-month"}.Screen()},
	}
}

// offerEnd says under a month that it is finished, or offers that once it is over.
func offerEnd(c *engine.Talk, r *chat.Reply, from, to shop.Date) {
	name := from.Time().Format("2006-01")
	switch f := bygone.FinishedAs(c.Teller, name); {
	case f != nil:
		said := c.V.Say("month.is-finished", "when", c.Clock(f.At), "who", c.Name(f.By))
		r.Body = append(r.Body, chat.Lines(said))
	case to < c.Today() && c.May(engine.DoFinishMonth):
		month := texts.Upper(c.V.List("words.months")[from.Time().Month()-1])
		r.Buttons = [][]chat.Button{{{Label: c.V.Say("button.finish-month", "month", month),
			Data: "o:" + engine.DoFinishMonth + ":" + name}}}
	}
}

func tapFinish(c *engine.Talk, month string) {
	first, err := shop.ParseDate(month + "-01")
	switch {
	case err != nil:
		c.UnknownTap()
	case bygone.FinishedAs(c.Teller, month) != nil:
		c.Notice = c.V.Say("month.finished-before")
	case shop.DateOf(first.Time().AddDate(0, 1, 0)) > c.Today():
		c.Notice = c.V.Say("month.not-over")
	case c.Flow() != nil:
		c.Notice = c.V.Say("finish-first", "what", c.V.Say("flow."+c.Flow().Title))
	default:
		c.Enter(engine.DoFinishMonth)
		engine.Drafted[ending](c).Month = month
		c.GoTo("review")
		c.Show()
	}
}

func readFinish(c *engine.Talk) []chat.Block {
	month := engine.Drafted[ending](c).Month
	if bygone.FinishedAs(c.Teller, month) != nil {
		c.Close(chat.Lines(c.V.Say("month.finished-before")))
		return nil
	}
	return bygone.MonthOpen(c.Teller, month)
}

// bookFinish finishes the month, and tells owners and bookkeepers its check word.
func bookFinish(c *engine.Talk) {
	if readFinish(c) == nil { // somebody was quicker
		return
	}
	month := engine.Drafted[ending](c).Month
	c.Orders.Finish = month
	said := bygone.MonthFinished(c.Teller, month)
	for _, p := range c.F.Shop.People {
		if role := p.Acts(); p.ID != c.F.Person.ID && (role == shop.Owner || role == shop.Bookkeeper) {
			c.TellPerson(p.ID, chat.Reply{Body: said})
		}
	}
	c.Close(said...)
}

// BackupCommand tells when the last copy of the bot's memory was made.
func BackupCommand() engine.Command {
	return engine.Command{Name: engine.DoBackup, Run: func(c *engine.Talk) { c.Say(telling.Memory(c.Teller)) },
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly, Help: engine.HelpMore, Takes: engine.OnlyFigures}
}
