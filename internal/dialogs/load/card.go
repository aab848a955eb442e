package load

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/demand"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
)

func askLoad(c *engine.Talk) *engine.Card {
	if h := c.F.Shop.Plan.Hold; h != nil { // a number would be taken for leave to load
		lines := append(trade.HoldLines(c, *h), c.V.Say("load.held"))
		return &engine.Card{Body: []chat.Block{engine.Text(lines...)}}
	}
	_, a, err := advised(c)
	if err != nil {
		return noAdvice(c, err)
	}
	v := make([]int64, len(a.Lines))
	for i, l := range a.Lines {
		v[i] = l.Notes
	}
	table, _ := ask.CountTable(c, ask.KindLines(c), v)
	said := append(append(sure(c, a), handLine(c)), cuts(c, a)...)
	k := &engine.Card{Buttons: [][]chat.Button{c.Button("load-why", "why")}, Body: []chat.Block{
		{Text: engine.Upper(c.V.Say("load.for", "days", ask.Between(c, a.From, a.To)))}, table,
		engine.Text(said...)}}
	if a.KnownDays > 0 {
		k.Buttons = append(k.Buttons, c.Button("load-picture", "picture"))
	}
	if hand(c) != nil {
		k.Buttons = append(k.Buttons, c.Button("load-all", "all"))
	}
	if c.F.Person.Role.Manages() {
		k.Buttons = append(k.Buttons, c.Button("load-full", "full"))
	}
	return k
}

// sure says how often that is enough, and on how little it rests. When it was
// cut, how often it would have been enough stands beside the cut.
func sure(c *engine.Talk, a advice.Advice) []string {
	if a.KnownDays == 0 {
		return []string{c.V.Say("load.nothing-known")}
	}
	var out []string
	if !slices.ContainsFunc(a.Lines, func(l advice.Line) bool { return l.Cut != "" }) {
		id := engine.Either(len(a.Days) > 1, "load.enough-span", "load.enough")
		out = append(out, c.V.Say(id, "share", share(a.Share)))
	}
	if a.Thin {
		out = append(out, c.V.Count("load.thin", int64(a.KnownDays)))
	}
	return out
}

// share writes a probability as days in a hundred.
func share(p float64) int { return int(p*100 + 0.5) }

func handLine(c *engine.Talk) string {
	hand := hand(c)
	if hand == nil {
		return ""
	}
	return c.V.Say("load.hand", "counts", ask.Notes(c, hand))
}

// cuts says why less than enough is advised, a line for each reason, and what
// stands in for what.
func cuts(c *engine.Talk, a advice.Advice) []string {
	var out []string
	for _, cut := range []advice.Cut{advice.Capacity, advice.Bundle, advice.Limit, advice.Hand} {
		better := books.Notes{}
		for _, l := range a.Lines {
			if l.Cut == cut {
				better[l.Face] = l.Enough
			}
		}
		if len(better) > 0 {
			out = append(out, c.V.Say("load.cut-"+string(cut), "limit", c.V.Money(c.F.Shop.Limit),
				"instead", c.V.Say(engine.Either(a.KnownDays > 0, "load.better", "load.usual"),
					"counts", ask.Notes(c, better), "share", share(a.Share))))
		}
	}
	for _, l := range a.Lines {
		if l.Instead > 0 {
			out = append(out, c.V.Say("load.instead", "kind", c.V.Kind(l.Face), "n", c.V.Number(l.Instead)))
		}
	}
	return out
}

// beforeOpening is the advice in one line for the opening dialog; empty while
// there is too little to go by.
func beforeOpening(c *engine.Talk) string {
	a, ok := openingAdvice(c)
	if !ok {
		return ""
	}
	load := books.Notes{}
	for _, l := range a.Lines {
		load[l.Face] = l.Notes
	}
	return c.V.Say("load.opening", "counts", ask.Notes(c, load))
}

// openingWhy explains that line; empty where there is none.
func openingWhy(c *engine.Talk) string {
	a, ok := openingAdvice(c)
	if !ok {
		return ""
	}
	return strings.Join(reasons(c, a), "\n")
}

// openingAdvice is the advice for the day an opening now is for. Reading the whole ledger
// takes a moment, so it is not read before it can tell something.
func openingAdvice(c *engine.Talk) (advice.Advice, bool) {
	if len(c.M.Loads) < enoughToAdvise || c.F.Shop.Plan.Hold != nil || !c.State.Draft.Happened.IsZero() {
		return advice.Advice{}, false
	}
	date := loadDate(c)
	o, err := outlook(c, date)
	if err != nil {
		return advice.Advice{}, false
	}
	a, err := o.For(advice.Until(c.F.Shop, date), nil)
	return a, err == nil && a.KnownDays >= enoughToAdvise
}

// enoughToAdvise is from how many days on the opening dialog gives advice nobody
// asked for.
const enoughToAdvise = 10

// Moments are the advice before an opening.
func Moments() engine.Moments {
	return engine.Moments{Advice: &engine.Advising{Line: beforeOpening, Why: openingWhy}}
}

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
