package dialogs

import (
	"fmt"
	"math"
	"strings"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/demand"
)

func askWhy(c *talk) *card {
	_, a, err := c.advised()
	if err != nil {
		return c.noAdvice(err)
	}
	return &card{body: []Block{text(c.reasons(a)...)}, buttons: [][]Button{c.button("back", "back")}}
}

// reasons explains an advice in the words of the method, a line for each kind.
func (c *talk) reasons(a advice.Advice) []string {
	var out []string
	for _, l := range a.Lines {
		if !l.Known {
			out = append(out, c.v.Say("why.usual", "kind", c.v.Kind(l.Face), "n", c.v.Number(l.Notes)))
			continue
		}
		because := c.v.Say("why.together", "days", c.between(a.From, a.To))
		if len(l.Forecast.Terms) > 0 {
			because = c.terms(l.Forecast)
		}
		id := either(len(a.Days) > 1, "why-span", "why")
		out = append(out, c.v.Say(id, "kind", c.v.Kind(l.Face), "because", because,
			"mean", c.v.Number(whole(l.Forecast.Mean)), "n", c.v.Number(l.Enough), "share", share(a.Share)))
	}
	if a.KnownDays > 0 {
		out = append(out, c.v.Count("why.known", int64(a.KnownDays)))
	}
	if a.KnownDays > 0 && a.Thin {
		out = append(out, c.v.Say("why.thin"))
	}
	return append(out, c.cuts(a)...)
}

func whole(notes float64) int64 { return int64(math.Round(notes)) }

// terms writes what a forecast is made of: a usual Friday 150, month's end +9 %.
func (c *talk) terms(f demand.Forecast) string {
	usual := c.v.Number(whole(f.Terms[0].Notes))
	parts := []string{c.v.Say("why.weekday", "day", c.fullWeekday(f.Day.Weekday()), "n", usual)}
	for _, t := range f.Terms[1:] {
		if percent := whole(100 * (t.Factor - 1)); percent != 0 {
			parts = append(parts, c.termName(f, t)+" "+signed(percent))
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

func (c *talk) fullWeekday(d time.Weekday) string {
	return upper(c.v.List("words.weekdays")[d])
}

// termName says what a term stands for.
func (c *talk) termName(f demand.Forecast, t demand.Term) string {
	up := t.Factor > 1
	switch t.Kind {
	case demand.MonthEdge:
		return c.v.Say(either(t.Offset > 0, "why.month-start", "why.month-end"))
	case demand.Payday:
		return c.v.Say(either(t.Offset == 0, "why.payday", "why.after-payday"))
	case demand.Easter, demand.Christmas:
		if t.Name != "" {
			return t.Name
		}
		return c.v.Say(either(t.Kind == demand.Easter, "why.easter", "why.christmas"))
	case demand.Public:
		return c.v.Say("why.holiday-"+[]string{"before", "on", "after"}[t.Offset+1], "name", t.Name)
	case demand.Recent:
		return c.v.Say(either(up, "why.busy", "why.quiet"), "day", c.sinceWhen(f.Day, t.Since))
	case demand.Growth:
		return c.v.Say(either(up, "why.rising", "why.falling"))
	}
	return c.v.Say("why.last-year")
}

func either(yes bool, one, other string) string {
	if yes {
		return one
	}
	return other
}

// sinceWhen names a day of the last week by its weekday, another by its date.
func (c *talk) sinceWhen(day, since demand.Day) string {
	if day-since < 7 {
		return c.fullWeekday(since.Weekday())
	}
	return c.v.Day(dayTime(since))
}

// dayTime is a day's midnight in UTC, to be written.
func dayTime(d demand.Day) time.Time {
	year, month, dayOfMonth := d.Date()
	return time.Date(year, month, dayOfMonth, 0, 0, 0, 0, time.UTC)
}
