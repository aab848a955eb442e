package past

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/when"
)

// DayCommand shows any past day, or several.
func DayCommand() engine.Command { return looksBack(engine.DoDay, day) }

// day shows any past day: day 24 november.
func day(c *engine.Talk) {
	from, to, rest := telling.PastDays(c.Teller, strings.ToLower(c.Rest))
	if rest != "" {
		c.Say(c.V.Say("past.no-day", "near", rest))
		return
	}
	if from != to {
		monthTable(c, from, to)
		return
	}
	days := slices.DeleteFunc(telling.Past(c.Teller, from, from), telling.Late)
	if !shown(c, days, c.V.Say("no-such-day", "day", c.DayYear(from))) {
		return
	}
	c.Send(chat.Reply{Body: append([]chat.Block{chat.Lines(c.V.Say("past.day", "day", c.DayYear(from)))},
		telling.DayBlocks(c.Teller, days[0])...)})
}

// MonthCommand shows a month day by day.
func MonthCommand() engine.Command { return looksBack(engine.DoMonth, month) }

// month shows a table of days with totals: month, month november.
func month(c *engine.Talk) {
	from, to, ok := monthOf(c, c.Rest)
	if !ok {
		c.Say(c.V.Say("past.no-month", "near", c.Rest))
		return
	}
	days := telling.Past(c.Teller, from, to)
	if !shown(c, days, c.V.Say("past.nothing")) {
		return
	}
	name := from.Time().Format("2006-01")
	r := chat.Reply{Body: telling.DaysBlocks(c.Teller, days, from, to)}
	switch f := finishedAs(c, name); {
	case f != nil:
		r.Body = append(r.Body, chat.Lines(c.V.Say("month.is-finished", "when", c.Clock(f.At), "who", c.Name(f.By))))
	case to < c.Today() && c.May(engine.DoFinishMonth):
		month := c.V.Say("month." + strconv.Itoa(int(from.Time().Month())))
		r.Buttons = [][]chat.Button{{{Label: c.V.Say("button.finish-month", "month", month),
			Data: "o:" + engine.DoFinishMonth + ":" + name}}}
	}
	c.Send(r)
}

// monthOf reads the name of a month that has been or is under way; none is this one.
func monthOf(c *engine.Talk, s string) (from, to shop.Date, ok bool) {
	today := c.Today().Time()
	m, why := when.Month{Year: today.Year(), Month: today.Month()}, when.OK
	if s != "" {
		m, why = telling.Reader(c.Teller).Month(s, when.Back)
	}
	return m.First(), m.Last(), why == when.OK
}

func monthTable(c *engine.Talk, from, to shop.Date) {
	if days := telling.Past(c.Teller, from, to); shown(c, days, c.V.Say("past.nothing")) {
		c.Send(chat.Reply{Body: telling.DaysBlocks(c.Teller, days, from, to)})
	}
}
