package load

import (
	"fmt"
	"math"
	"strings"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/chat"
	"shopfloat/internal/demand"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

func askWhy(c *engine.Talk) *engine.Card {
	_, a, err := advised(c)
	if err != nil {
		return noAdvice(c, err)
	}
	return &engine.Card{Body: []chat.Block{engine.Text(reasons(c, a)...)},
		Buttons: [][]chat.Button{c.Button("back", "back")}}
}

// reasons explains an advice in the words of the method, a line for each kind.
func reasons(c *engine.Talk, a advice.Advice) []string {
	var out []string
	for _, l := range a.Lines {
		if !l.Known {
			out = append(out, c.V.Say("why.usual", "kind", c.V.Kind(l.Face), "n", c.V.Number(l.Notes)))
			continue
		}
		because := c.V.Say("why.together", "days", ask.Between(c, a.From, a.To))
		if len(l.Forecast.Terms) > 0 {
			because = terms(c, l.Forecast)
		}
		id := engine.Either(len(a.Days) > 1, "why-span", "why")
		out = append(out, c.V.Say(id, "kind", c.V.Kind(l.Face), "because", because,
			"mean", c.V.Number(whole(l.Forecast.Mean)), "n", c.V.Number(l.Enough), "share", share(a.Share)))
	}
	if a.KnownDays > 0 {
		out = append(out, c.V.Count("why.known", int64(a.KnownDays)))
	}
	if a.KnownDays > 0 && a.Thin {
		out = append(out, c.V.Say("why.thin"))
	}
	return append(out, cuts(c, a)...)
}

func whole(notes float64) int64 { return int64(math.Round(notes)) }

// terms writes what a forecast is made of: a usual Friday 150, month's end +9 %.
func terms(c *engine.Talk, f demand.Forecast) string {
	usual := c.V.Number(whole(f.Terms[0].Notes))
	parts := []string{c.V.Say("why.weekday", "day", fullWeekday(c, f.Day.Weekday()), "n", usual)}
	for _, t := range f.Terms[1:] {
		if percent := whole(100 * (t.Factor - 1)); percent != 0 {
			parts = append(parts, termName(c, f, t)+" "+signed(percent))
		}
	}
	return strings.Join(parts, ", ")
}

// signed writes +9 % or −4 %, with the true minus sign.
func signed(percent int64) string {
	if percent < 0 {
		return fmt.Sprintf("−%d %%", -percent)
	}
	return fmt.Sprintf("+%d %%", percent)
}

func fullWeekday(c *engine.Talk, d time.Weekday) string {
	return engine.Upper(c.V.List("words.weekdays")[d])
}

// termName says what a term stands for.
func termName(c *engine.Talk, f demand.Forecast, t demand.Term) string {
	up := t.Factor > 1
	switch t.Kind {
	case demand.MonthEdge:
		return c.V.Say(engine.Either(t.Offset > 0, "why.month-start", "why.month-end"))
	case demand.Payday:
		return c.V.Say(engine.Either(t.Offset == 0, "why.payday", "why.after-payday"))
	case demand.Easter, demand.Christmas:
		if t.Name != "" {
			return t.Name
		}
		return c.V.Say(engine.Either(t.Kind == demand.Easter, "why.easter", "why.christmas"))
	case demand.Public:
		return c.V.Say("why.holiday-"+[]string{"before", "on", "after"}[t.Offset+1], "name", t.Name)
	case demand.Recent:
		return c.V.Say(engine.Either(up, "why.busy", "why.quiet"), "day", sinceWhen(c, f.Day, t.Since))
	case demand.Growth:
		return c.V.Say(engine.Either(up, "why.rising", "why.falling"))
	}
	return c.V.Say("why.last-year")
}

// sinceWhen names a day of the last week by its weekday, another by its date.
func sinceWhen(c *engine.Talk, day, since demand.Day) string {
	if day-since < 7 {
		return fullWeekday(c, since.Weekday())
	}
	return c.V.Day(dayTime(since))
}

// dayTime is a day's midnight in UTC, to be written.
func dayTime(d demand.Day) time.Time {
	year, month, dayOfMonth := d.Date()
	return time.Date(year, month, dayOfMonth, 0, 0, 0, 0, time.UTC)
}
