package reminding

import (
	"fmt"
	"slices"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/holidays"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// HoursFlow shows the plan of the week and changes it line by line.
func HoursFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoHours, Title: "hours", Version: 1, Draft: func() any { return &planDraft{} },
		Start: startHours,
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Everyone, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoHours, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords},
			{Name: engine.DoAgenda, Does: engine.TellsOnly, Help: engine.HelpMore, Takes: engine.AnyWords,
				Run: agenda},
			{Name: engine.DoReminders, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords,
				Run: ladders},
		},
		Screens: map[string]engine.Screen{
			"ask": ask.Booking{First: holidayLine.Card, Tap: holidayLine.Tap, Read: readHours, Answer: answerHours,
				Book: bookHours, Plan: true, What: "what.hours"}.Screen(),
			"feasts": feastPick.Screen(),
		},
		Cards: []engine.Standing{{Name: engine.DoFeast, Tap: tapFeast,
			Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp)}},
	}
}

// startHours shows the plan, or takes a line of it that came with the command.
func startHours(c *engine.Talk) {
	if !c.F.Person.Role.Manages() {
		c.Close(planOf(c, &c.F.Shop.Settings)...)
		return
	}
	c.GoTo("ask")
	if c.Rest != "" {
		answerHours(c, c.Rest)
	}
}

// readHours shows the plan with what was typed so far.
func readHours(c *engine.Talk) []chat.Block {
	s := typedPlan(c).over(c.F.Shop.Settings)
	return planOf(c, &s)
}

// holidayLine offers the line about public holidays while none was typed.
var holidayLine = ask.Pick{
	Head: func(c *engine.Talk) *engine.Card {
		if engine.LosesChoices(c) {
			return nil
		}
		return &engine.Card{Body: append(readHours(c), chat.Block{Text: c.V.Say("hours.how")})}
	},
	Options: func(c *engine.Talk) []ask.Option {
		trades := !c.F.Shop.Plan.TradesOnHolidays
		word := texts.Either(trades, "open", "closed")
		return []ask.Option{{Label: c.V.Say("button.holidays-" + word), Value: "holidays-" + word,
			Take: func(c *engine.Talk) { typedPlan(c).Holidays = &trades }},
			{Label: c.V.Say("button.feasts"), Value: "feasts", Take: engine.GoBack("feasts")}}
	},
}

func answerHours(c *engine.Talk, s string) bool {
	for line := range strings.Lines(engine.Fold(s)) {
		line = strings.Trim(line, " \n.,;")
		if line != "" && !typedPlan(c).line(c, line) {
			c.First(c.V.Say("hours.not", "line", line))
			return true
		}
	}
	return true
}

func bookHours(c *engine.Talk) {
	s := typedPlan(c).over(c.F.Shop.Settings)
	_, err := shop.New(c.F.Shop.ID, c.F.Shop.Version+1, s)
	switch {
	case !c.F.Person.Role.Manages():
		c.Close(chat.Block{Text: c.V.Say("hours.manager")})
	case err != nil:
		*typedPlan(c) = planDraft{}
		c.First(c.V.Say("hours.refused"))
	default:
		c.Settings = &s
		c.Close(chat.Lines(c.V.Say("hours.saved", "when", c.Clock(c.In.At))))
		c.TellAbout(reminders.Changed,
			chat.Reply{Body: []chat.Block{{Text: c.V.Say("hours.told", "who", c.F.Person.Name)}}})
	}
}

// planOf shows the weekly plan and what is different.
func planOf(c *engine.Talk, s *shop.Settings) []chat.Block {
	rows := [][]string{}
	for _, day := range []int{1, 2, 3, 4, 5, 6, 0} {
		what := c.V.Say("hours.closed")
		if h := s.Hours[day]; h != (shop.Hours{}) {
			what = telling.Span(h)
		}
		rows = append(rows, []string{c.V.Say(fmt.Sprintf("weekday.%d", day)), what, onDuty(c, s, day)})
	}
	lines := append([]string{whenDue(c, s), keptLine(c, s)}, planExtras(c, &s.Plan)...)
	for _, change := range s.Plan.Changes {
		if change.To >= c.Today() {
			lines = append(lines, "- "+changed(c, "plan.", change))
		}
	}
	if h := s.Plan.Hold; h != nil {
		lines = append(lines, telling.HoldLines(c.Teller, *h)...)
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
func onDuty(c *engine.Talk, s *shop.Settings, day int) string {
	d := s.Plan.Duty[day]
	var out []string
	if d.Opens != 0 {
		out = append(out, c.V.Say("hours.opens", "name", c.Name(d.Opens)))
	}
	if d.Closes != 0 {
		out = append(out, c.V.Say("hours.closes", "name", c.Name(d.Closes)))
	}
	return strings.Join(out, ", ")
}

// ladders tells who is reminded when, task by task; a line that follows lays a
// ladder down.
func ladders(c *engine.Talk) {
	if c.Rest != "" {
		c.Begin(engine.DoHours)
		return
	}
	lines := []string{c.V.Say("ladder.head")}
	for _, task := range ladderTasks() {
		lines = append(lines, ladderLine(c, task, reminders.Ladder(c.F.Shop, task)))
	}
	c.Send(chat.Reply{Body: []chat.Block{chat.Lines(append(lines, c.V.Say("ladder.how"))...)}})
}

// ladderLine writes a ladder as it is typed.
func ladderLine(c *engine.Talk, task reminders.Task, ladder []shop.Rung) string {
	var rungs []string
	for _, r := range ladder {
		rungs = append(rungs, fmt.Sprintf("%d %s", r.After, c.V.Say("group."+string(r.To))))
	}
	return c.V.Say("ladder."+string(task)) + ": " + strings.Join(rungs, ", ")
}

// planExtras tells what a plan lays down that most shops leave as it is.
func planExtras(c *engine.Talk, p *shop.Plan) (lines []string) {
	for _, task := range ladderTasks() {
		if own := p.Ladders.Of(string(task)); len(*own) > 0 {
			lines = append(lines, c.V.Say("hours.reminders", "ladder", ladderLine(c, task, *own)))
		}
	}
	if p.Summary == "off" {
		lines = append(lines, c.V.Say("hours.no-summary"))
	} else if p.Summary != "" {
		day := slices.Index(reminders.Weekdays(), p.Summary)
		lines = append(lines, c.V.Say("hours.summary", "day", c.V.Say(fmt.Sprintf("weekday.%d", day))))
	}
	if p.NoLevels {
		lines = append(lines, c.V.Say("hours.no-levels"))
	}
	for _, season := range p.Seasons {
		for day, h := range season.Hours {
			if h != nil && (day == 0 || season.Hours[day-1] == nil || *h != *season.Hours[day-1]) {
				lines = append(lines, c.V.Say("hours.season", "from", telling.YearDay(c.Teller, season.From),
					"to", telling.YearDay(c.Teller, season.To), "hours", telling.Span(*h)))
			}
		}
	}
	if p.HolidayHours != nil {
		lines = append(lines, c.V.Say("hours.on-holidays", "hours", telling.Span(*p.HolidayHours)))
	}
	for _, h := range p.Holidays {
		lines = append(lines, telling.Feast(c.Teller, h))
	}
	if p.EachClose {
		lines = append(lines, c.V.Say("hours.each-close"))
	}
	if p.Night != nil {
		from, to := telling.ClockText(p.Night.Open), telling.ClockText(p.Night.Close)
		lines = append(lines, c.V.Say("hours.night", "from", from, "to", to))
	}
	return lines
}

// whenDue says when the tasks of a day are due.
func whenDue(c *engine.Talk, s *shop.Settings) string {
	figures, from, endless := s.Endless()
	if !endless {
		return c.V.Say("hours.due")
	}
	return c.V.Say("hours.endless", "figures", telling.ClockText(figures), "from", telling.ClockText(from),
		"to", telling.ClockText((from+reminders.FillingWindow)%shop.DayMinutes))
}

// keptLine says how public holidays are kept, or that they are not known.
func keptLine(c *engine.Talk, s *shop.Settings) string {
	id := "hours.holidays-" + texts.Either(s.Plan.TradesOnHolidays, "open", "closed")
	if !holidays.Known(s.Place()) {
		id = "hours.holidays-unknown"
	}
	line := c.V.Say(id)
	if r, ok := holidays.RegionOf(s.Country, s.Region); ok {
		line += " " + c.V.Say("hours.region", "region", r.Name)
	}
	if year, ends := reminders.TablesEnd(c.F.Shop, c.Today()); ends {
		line += "\n" + c.V.Say("hours.ends", "year", year)
	}
	return line
}

// ladderTasks are the tasks whose ladder a shop may lay down.
func ladderTasks() []reminders.Task {
	return []reminders.Task{
		reminders.Opening, reminders.Closing, reminders.Unclosed, reminders.Ticks, reminders.Fault,
	}
}
