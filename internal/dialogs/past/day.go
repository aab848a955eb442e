package past

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/tally"
	"shopfloat/internal/telling"
)

// DayCommand shows any past day, or several.
func DayCommand() engine.Command { return looksBack(engine.DoDay, day) }

// day shows any past day: day 24 november.
func day(c *engine.Talk) {
	of, rest := c.Scope(c.Rest)
	from, to, rest := telling.PastDays(c.Teller, strings.ToLower(rest))
	if rest != "" {
		c.Say(telling.NoDay(c.Teller, rest, "past.no-day"))
		return
	}
	if from != to {
		monthTable(c, of, from, to)
		return
	}
	list := past(c, of, from, from, c.V.Say("no-such-day", "day", c.DayYear(from)))
	for i, m := range list {
		if len(m.Days) > 0 && !m.Days[0].Late {
			c.Send(chat.Reply{Place: telling.Place(of[i : i+1]), Body: append([]chat.Block{chat.Lines(
				c.V.Say("past.day", "day", c.DayYear(from)))}, bygone.DayBlocks(of[i], m.Days[0])...)})
		}
	}
}

// MonthCommand shows a month day by day.
func MonthCommand() engine.Command { return looksBack(engine.DoMonth, month) }

// month shows a table of days with totals: month, month november.
func month(c *engine.Talk) {
	of, rest := c.Scope(c.Rest)
	from, to, ok := bygone.MonthOf(c.Teller, rest)
	if !ok {
		c.Say(c.V.Say("past.no-month", "near", rest))
		return
	}
	if list := past(c, of, from, to, c.V.Say("past.nothing")); list != nil {
		r := chat.Reply{Place: telling.Place(of),
			Body: bygone.DaysBlocks(c.Teller, tally.Joined(list), from, to)}
		offerEnd(c, &r, from, to)
		c.Send(r)
	}
}

func monthTable(c *engine.Talk, of []*telling.Teller, from, to shop.Date) {
	if list := past(c, of, from, to, c.V.Say("past.nothing")); list != nil {
		c.Send(chat.Reply{Place: telling.Place(of),
			Body: bygone.DaysBlocks(c.Teller, tally.Joined(list), from, to)})
	}
}

// StatusCommand tells how things stand.
func StatusCommand() engine.Command {
	return engine.Command{Name: engine.DoStatus, Menu: 6, Run: here(func(c *engine.Talk) {
		c.Send(telling.Status(c.Teller, ask.BoxLines(c), c.State.Draft.Happened))
	}),
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly, Help: engine.HelpOften, Takes: engine.OnlyFigures}
}

// HistoryCommand shows the last records, or those of a past day.
func HistoryCommand() engine.Command {
	return engine.Command{Name: engine.DoHistory, Menu: 11, Run: here(history),
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Does:   engine.TellsOnly, Help: engine.HelpMore, Takes: engine.OnlyFigures}
}

func history(c *engine.Talk) {
	if c.Rest == "" {
		c.Say(bygone.History(c.Teller))
		return
	}
	c.Say(bygone.HistoryOf(c.Teller, c.Rest))
}
