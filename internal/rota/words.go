// Package rota is the plan of a shop's days as people type it and read it: its hours,
// who opens and closes, and the days that are different. It asks nothing and lays
// nothing down.
package rota

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Plan shows the weekly plan and what is different.
func Plan(t *telling.Teller, s *shop.Settings) []chat.Block {
	rows := [][]string{}
	for _, day := range []int{1, 2, 3, 4, 5, 6, 0} {
		what := t.V.Say("hours.closed")
		if h := s.Hours[day]; h != (shop.Hours{}) {
			what = telling.Span(h)
		}
		rows = append(rows, []string{t.V.Say(fmt.Sprintf("weekday.%d", day)), what, onDuty(t, s, day)})
	}
	lines := append([]string{whenDue(t, s), kept(t, s)}, extras(t, &s.Plan)...)
	for _, change := range s.Plan.Changes {
		if change.To >= t.Today() {
			lines = append(lines, "- "+Word(t, "plan.", change))
		}
	}
	if h := s.Plan.Hold; h != nil {
		lines = append(lines, telling.HoldLines(t, *h)...)
	}
	return []chat.Block{chat.Columns(3, merged(rows)), chat.Lines(lines...)}
}

// merged puts neighbouring days with the same plan on one line.
func merged(rows [][]string) [][]string {
	var out [][]string
	first := ""
	for _, r := range rows {
		if n := len(out); n > 0 && slices.Equal(out[n-1][1:], r[1:]) {
			out[n-1][0] = first + "-" + r[0]
			continue
		}
		first, out = r[0], append(out, r)
	}
	return out
}

// onDuty names who opens and who closes on a weekday.
func onDuty(t *telling.Teller, s *shop.Settings, day int) string {
	d := s.Plan.Duty[day]
	var out []string
	if d.Opens != 0 {
		out = append(out, t.V.Say("hours.opens", "name", t.Name(d.Opens)))
	}
	if d.Closes != 0 {
		out = append(out, t.V.Say("hours.closes", "name", t.Name(d.Closes)))
	}
	return strings.Join(out, ", ")
}

// Ladder writes a ladder as it is typed.
func Ladder(t *telling.Teller, task reminders.Task, ladder []shop.Rung) string {
	var rungs []string
	for _, r := range ladder {
		rungs = append(rungs, fmt.Sprintf("%d %s", r.After, t.V.Say("group."+string(r.To))))
	}
	return t.V.Say("ladder."+string(task)) + ": " + strings.Join(rungs, ", ")
}

// extras tells what a plan lays down that most shops leave as it is.
func extras(t *telling.Teller, p *shop.Plan) (lines []string) {
	for _, task := range Tasks() {
		if own := p.Ladders.Of(string(task)); len(*own) > 0 {
			lines = append(lines, t.V.Say("hours.reminders", "ladder", Ladder(t, task, *own)))
		}
	}
	if p.Summary == "off" {
		lines = append(lines, t.V.Say("hours.no-summary"))
	} else if p.Summary != "" {
		day := slices.Index(shop.Weekdays(), p.Summary)
		lines = append(lines, t.V.Say("hours.summary", "day", t.V.Say(fmt.Sprintf("weekday.%d", day))))
	}
	if p.NoLevels {
		lines = append(lines, t.V.Say("hours.no-levels"))
	}
	for _, season := range p.Seasons {
		if season.Since != "" {
			lines = append(lines, t.V.Say("hours.since", "from", t.DayYear(season.Since),
				"hours", seasonHours(t, season)))
			continue
		}
		from, to := telling.YearDay(t, season.From), telling.YearDay(t, season.To)
		lines = append(lines, t.V.Say("hours.season", "from", from, "to", to, "hours", seasonHours(t, season)))
	}
	used := func(h shop.HolidayChoice) bool { return h.Trades && h.Hours == nil }
	if p.HolidayHours != nil && (p.TradesOnHolidays || slices.ContainsFunc(p.Holidays, used)) {
		lines = append(lines, t.V.Say("hours.on-holidays", "hours", telling.Span(*p.HolidayHours)))
	}
	for _, h := range p.Holidays {
		lines = append(lines, Feast(t, h))
	}
	if p.EachClose {
		lines = append(lines, t.V.Say("hours.each-close"))
	}
	if p.Night != nil {
		from, to := telling.ClockText(p.Night.Open), telling.ClockText(p.Night.Close)
		lines = append(lines, t.V.Say("hours.night", "from", from, "to", to))
	}
	return lines
}

// seasonHours says the hours of a season, of which days where not of all: Sun 11:00-16:00.
func seasonHours(t *telling.Teller, season shop.Season) string {
	day := func(i int) string { return t.V.Say("weekday." + strconv.Itoa(i%7)) }
	same := func(a, b int) bool {
		x, y := season.Hours[a%7], season.Hours[b%7]
		return x == y || x != nil && y != nil && *x == *y
	}
	var out []string
	for i := 1; i <= 7; {
		last := i
		for last < 7 && same(i, last+1) {
			last++
		}
		if h := season.Hours[i%7]; h != nil {
			what := t.V.Say("hours.closed")
			if *h != (shop.Hours{}) {
				what = telling.Span(*h)
			}
			switch {
			case last == i:
				what = day(i) + " " + what
			case last < i+6:
				what = day(i) + "-" + day(last) + " " + what
			}
			out = append(out, what)
		}
		i = last + 1
	}
	return strings.Join(out, ", ")
}

// Feast says how a public holiday is kept.
func Feast(t *telling.Teller, h shop.HolidayChoice) string {
	if h.Hours != nil {
		return t.V.Say("feast.kept-hours", "what", h.Name, "hours", telling.Span(*h.Hours))
	}
	return t.V.Say(texts.Either(h.Trades, "feast.kept-open", "feast.kept-closed"), "what", h.Name)
}

// whenDue says when the tasks of a day are due.
func whenDue(t *telling.Teller, s *shop.Settings) string {
	figures, from, endless := s.Endless()
	if !endless {
		return t.V.Say("hours.due")
	}
	return t.V.Say("hours.endless", "figures", telling.ClockText(figures), "from", telling.ClockText(from),
		"to", telling.ClockText((from+reminders.FillingWindow)%shop.DayMinutes))
}

// kept says how public holidays are kept, or that they are not known.
func kept(t *telling.Teller, s *shop.Settings) string {
	_, _, endless := s.Endless() // it never closes, unless it chose single holidays
	open := s.Plan.TradesOnHolidays || endless && len(s.Plan.Holidays) == 0
	id := "hours.holidays-" + texts.Either(open, "open", "closed")
	if !holidays.Known(s.Place()) {
		id = "hours.holidays-unknown"
	}
	line := t.V.Say(id)
	if r, ok := holidays.RegionOf(s.Country, s.Region); ok {
		line += " " + t.V.Say("hours.region", "region", r.Name)
	}
	if year, ends := reminders.TablesEnd(t.F.Shop, t.Today()); ends {
		line += "\n" + t.V.Say("hours.ends", "year", year)
	}
	return line
}

// Tasks are the tasks whose ladder a shop may lay down.
func Tasks() []reminders.Task {
	return []reminders.Task{
		reminders.Opening, reminders.Closing, reminders.Unclosed, reminders.Ticks, reminders.Fault,
	}
}
