package dialogs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// planLine reads one line of a plan into settings: "mon-fri 8-20", "sun closed",
// "sat ben opens", "holidays open", "summary fri", "nudges off", "night 23-6",
// "reminders closing 0 list, 30 managers". False: it says none of these.
func (c *talk) planLine(s *shop.Settings, line string) bool {
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	switch {
	case c.isWord("holidays", word):
		return c.flag(&s.Plan.TradesOnHolidays, rest)
	case c.isWord("levels", word):
		on := !s.Plan.NoLevels
		ok := c.flag(&on, rest)
		s.Plan.NoLevels = !on
		return ok
	case c.isWord("summary", word):
		return c.planSummary(s, rest)
	case c.isWord("night", word):
		h, why := c.reader().Hours(rest)
		s.Plan.Night = &h
		return why == when.OK
	}
	if c.isWord("reminders", word) {
		word, rest, _ = strings.Cut(rest, " ")
	}
	if task, ok := c.ladderIn(word); ok {
		return c.planLadder(s, task, rest)
	}
	days, rest, why := c.reader().Weekdays(line)
	return why == when.OK && c.planDays(s, days, rest)
}

// flag reads on, off, open and closed.
func (c *talk) flag(set *bool, s string) bool {
	switch {
	case c.isWord("on", s) || c.isWord("open-day", s):
		*set = true
	case c.isWord("off", s) || c.isWord("closed", s):
		*set = false
	default:
		return false
	}
	return true
}

func (c *talk) planSummary(s *shop.Settings, rest string) bool {
	if c.isWord("off", rest) {
		s.Plan.Summary = "off"
		return true
	}
	day, ok := c.reader().Weekday(rest)
	if ok {
		s.Plan.Summary = reminders.Weekdays()[day]
	}
	return ok
}

// planDays lays down hours, or who opens or closes, for days of the week.
func (c *talk) planDays(s *shop.Settings, days []time.Weekday, rest string) bool {
	if c.isWord("closed", rest) {
		for _, d := range days {
			s.Hours[d] = shop.Hours{}
		}
		return true
	}
	if h, why := c.reader().Hours(rest); why == when.OK && h != (shop.Hours{}) {
		for _, d := range days {
			s.Hours[d] = h
		}
		return true
	}
	p, word, ok := c.personIn(rest)
	if after, is := strings.CutPrefix(rest, c.v.Say("words.anybody")+" "); is {
		p, word, ok = shop.Person{}, after, true
	}
	if !ok || !c.isWord("opens", word) && !c.isWord("closes", word) {
		return false
	}
	for _, d := range days {
		if c.isWord("opens", word) {
			s.Plan.Duty[d].Opens = p.ID
		} else {
			s.Plan.Duty[d].Closes = p.ID
		}
	}
	return true
}

// ladderIn finds the task a line about reminders begins with.
func (c *talk) ladderIn(word string) (reminders.Task, bool) {
	i := slices.IndexFunc(ladderTasks(), func(t reminders.Task) bool {
		return c.isWord("ladder-"+string(t), word)
	})
	if i < 0 {
		return "", false
	}
	return ladderTasks()[i], true
}

// planLadder reads "-15 list, 0 list, 60 managers, 90 owners", or "as usual".
func (c *talk) planLadder(s *shop.Settings, task reminders.Task, rest string) bool {
	var rungs []shop.Rung
	for part := range strings.SplitSeq(rest, ",") {
		if c.isWord("as-usual", strings.TrimSpace(rest)) {
			break
		}
		minutes, group, _ := strings.Cut(strings.TrimSpace(part), " ")
		after, err := strconv.Atoi(minutes)
		to := shop.Group("")
		for _, g := range []shop.Group{shop.List, shop.Managers, shop.Owners} {
			if c.isWord("group-"+string(g), strings.TrimSpace(group)) {
				to = g
			}
		}
		if err != nil || to == "" {
			return false
		}
		rungs = append(rungs, shop.Rung{After: after, To: to})
	}
	*s.Plan.Ladders.Of(string(task)) = rungs
	return true
}
