package dialogs

import (
	"fmt"
	"slices"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

func hoursFlow() *flow {
	return &flow{
		name: doHours, title: "hours", version: 1, start: startHours,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights: rights{access.Everyone, anyPhone, onceSetUp},
		commands: []command{
			{name: doHours, does: startsDialog, help: helpMore, takes: anyWords},
			{name: doAgenda, does: tellsOnly, help: helpMore, takes: anyWords, run: (*talk).agenda},
			{name: doReminders, does: startsDialog, help: helpMore, takes: anyWords, run: (*talk).ladders},
		},
		screens: map[string]screen{
			"ask": booking{first: holidayLine.card, tap: holidayLine.tap, read: readHours, answer: answerHours,
				book: bookHours, plan: true, what: "what.hours"}.screen(),
		},
	}
}

// startHours shows the plan, or takes a line of it that came with the command.
func startHours(c *talk) {
	if !c.f.Person.Role.Manages() {
		c.close(c.planOf(&c.f.Shop.Settings)...)
		return
	}
	c.goTo("ask")
	if c.rest != "" {
		answerHours(c, c.rest)
	}
}

// readHours shows the plan with what was typed so far.
func readHours(c *talk) []Block {
	s, _ := c.draftedPlan()
	return c.planOf(&s)
}

// holidayLine offers the line about public holidays while none was typed.
var holidayLine = pick{
	head: func(c *talk) *card {
		if c.chosen("lines") != "" {
			return nil
		}
		return &card{body: append(readHours(c), Block{Text: c.v.Say("hours.how")})}
	},
	options: func(c *talk) []option {
		word := either(c.f.Shop.Plan.TradesOnHolidays, "closed", "open")
		return []option{{label: c.v.Say("button.holidays-" + word), value: "holidays-" + word,
			take: func(c *talk) { c.addLine("holidays " + word) }}}
	},
}

func answerHours(c *talk, s string) bool {
	for line := range strings.Lines(fold(s)) {
		line = strings.Trim(line, " \n.,;")
		next := c.f.Shop.Settings
		if line != "" && !c.planLine(&next, line) {
			c.first(c.v.Say("hours.not", "line", line))
			return true
		}
		c.addLine(line)
	}
	return true
}

func (c *talk) addLine(line string) {
	c.choose("lines", strings.TrimSpace(c.chosen("lines")+"\n"+line))
}

// draftedPlan is the shop's settings with the lines typed so far.
func (c *talk) draftedPlan() (shop.Settings, error) {
	s := c.f.Shop.Settings
	for line := range strings.Lines(c.chosen("lines")) {
		c.planLine(&s, strings.TrimSpace(line))
	}
	_, err := shop.New(c.f.Shop.ID, c.f.Shop.Version+1, s)
	return s, err
}

func bookHours(c *talk) {
	s, err := c.draftedPlan()
	switch {
	case !c.f.Person.Role.Manages():
		c.close(Block{Text: c.v.Say("hours.manager")})
	case err != nil:
		c.forget("lines")
		c.first(c.v.Say("hours.refused"))
	default:
		c.Settings = &s
		c.close(text(c.v.Say("hours.saved", "when", c.clock(c.in.At))))
		c.managers(text(c.v.Say("hours.told", "who", c.f.Person.Name)))
	}
}

// planOf shows the weekly plan and what is different.
func (c *talk) planOf(s *shop.Settings) []Block {
	rows := [][]string{}
	for _, day := range []int{1, 2, 3, 4, 5, 6, 0} {
		what := c.v.Say("hours.closed")
		if h := s.Hours[day]; h != (shop.Hours{}) {
			what = clockText(h.Open) + "-" + clockText(h.Close)
		}
		rows = append(rows, []string{c.v.Say(fmt.Sprintf("weekday.%d", day)), what, c.dutyOf(s, day)})
	}
	lines := []string{c.v.Say("hours.due")}
	if s.Plan.TradesOnHolidays {
		lines = append(lines, c.v.Say("hours.holidays-open"))
	} else {
		lines = append(lines, c.v.Say("hours.holidays-closed"))
	}
	lines = append(lines, c.planExtras(&s.Plan)...)
	for _, change := range s.Plan.Changes {
		if change.To >= c.today() {
			lines = append(lines, "- "+c.changed("plan.", change))
		}
	}
	if h := s.Plan.Hold; h != nil {
		lines = append(lines, c.holdLines(*h)...)
	}
	return []Block{columns(3, merged(rows)), text(lines...)}
}

// merged puts neighbouring days with the same plan on one line.
func merged(rows [][]string) [][]string {
	var out [][]string
	var first string
	for _, r := range rows {
		if n := len(out); n > 0 && out[n-1][1] == r[1] && out[n-1][2] == r[2] {
			out[n-1] = []string{first + "-" + r[0], r[1], r[2]}
			continue
		}
		first = r[0]
		out = append(out, []string{r[0], r[1], r[2]})
	}
	return out
}

// dutyOf names who opens and who closes on a weekday.
func (c *talk) dutyOf(s *shop.Settings, day int) string {
	d := s.Plan.Duty[day]
	var out []string
	if d.Opens != 0 {
		out = append(out, c.v.Say("hours.opens", "name", c.name(d.Opens)))
	}
	if d.Closes != 0 {
		out = append(out, c.v.Say("hours.closes", "name", c.name(d.Closes)))
	}
	return strings.Join(out, ", ")
}

// clockText writes minutes after midnight.
func clockText(minutes int) string { return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60) }

// ladders tells who is reminded when, task by task; a line that follows lays a
// ladder down.
func (c *talk) ladders() {
	if c.rest != "" {
		c.begin(doHours)
		return
	}
	lines := []string{c.v.Say("ladder.head")}
	for _, task := range ladderTasks() {
		lines = append(lines, c.ladderLine(task, reminders.Ladder(c.f.Shop, task)))
	}
	c.send(Reply{Body: []Block{text(append(lines, c.v.Say("ladder.how"))...)}})
}

// ladderLine writes a ladder as it is typed.
func (c *talk) ladderLine(task reminders.Task, ladder []shop.Rung) string {
	var rungs []string
	for _, r := range ladder {
		rungs = append(rungs, fmt.Sprintf("%d %s", r.After, c.v.Say("group."+string(r.To))))
	}
	return c.v.Say("ladder."+string(task)) + ": " + strings.Join(rungs, ", ")
}

// planExtras tells what a plan lays down that most shops leave as it is.
func (c *talk) planExtras(p *shop.Plan) (lines []string) {
	for _, task := range ladderTasks() {
		if own := p.Ladders.Of(string(task)); len(*own) > 0 {
			lines = append(lines, c.v.Say("hours.reminders", "ladder", c.ladderLine(task, *own)))
		}
	}
	if p.Summary == "off" {
		lines = append(lines, c.v.Say("hours.no-summary"))
	} else if p.Summary != "" {
		day := slices.Index(reminders.Weekdays(), p.Summary)
		lines = append(lines, c.v.Say("hours.summary", "day", c.v.Say(fmt.Sprintf("weekday.%d", day))))
	}
	if p.NoLevels {
		lines = append(lines, c.v.Say("hours.no-levels"))
	}
	if p.Night != nil {
		from, to := clockText(p.Night.Open), clockText(p.Night.Close)
		lines = append(lines, c.v.Say("hours.night", "from", from, "to", to))
	}
	return lines
}

// ladderTasks are the tasks whose ladder a shop may lay down.
func ladderTasks() []reminders.Task {
	return []reminders.Task{
		reminders.Opening, reminders.Closing, reminders.Unclosed, reminders.Ticks, reminders.Fault,
	}
}
