package reminding

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/when"
)

// planLine reads one line of a plan into settings: "mon-fri 8-20", "sun closed",
// "sat ben opens", "holidays open", "summary fri", "nudges off", "night 23-6",
// "reminders closing 0 list, 30 managers". False: it says none of these.
func planLine(c *engine.Talk, s *shop.Settings, line string) bool {
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	switch {
	case ask.IsWord(c, "holidays", word):
		return flag(c, &s.Plan.TradesOnHolidays, rest)
	case ask.IsWord(c, "levels", word):
		on := !s.Plan.NoLevels
		ok := flag(c, &on, rest)
		s.Plan.NoLevels = !on
		return ok
	case ask.IsWord(c, "summary", word):
		return planSummary(c, s, rest)
	case ask.IsWord(c, "night", word):
		h, why := ask.Reader(c).Hours(rest)
		s.Plan.Night = &h
		return why == when.OK
	}
	if ask.IsWord(c, "reminders", word) {
		word, rest, _ = strings.Cut(rest, " ")
	}
	if task, ok := ladderIn(c, word); ok {
		return planLadder(c, s, task, rest)
	}
	days, rest, why := ask.Reader(c).Weekdays(line)
	return why == when.OK && planDays(c, s, days, rest)
}

// flag reads on, off, open and closed.
func flag(c *engine.Talk, set *bool, s string) bool {
	switch {
	case ask.IsWord(c, "on", s) || ask.IsWord(c, "open-day", s):
		*set = true
	case ask.IsWord(c, "off", s) || ask.IsWord(c, "closed", s):
		*set = false
	default:
		return false
	}
	return true
}

func planSummary(c *engine.Talk, s *shop.Settings, rest string) bool {
	if ask.IsWord(c, "off", rest) {
		s.Plan.Summary = "off"
		return true
	}
	day, ok := ask.Reader(c).Weekday(rest)
	if ok {
		s.Plan.Summary = reminders.Weekdays()[day]
	}
	return ok
}

// planDays lays down hours, or who opens or closes, for days of the week.
func planDays(c *engine.Talk, s *shop.Settings, days []time.Weekday, rest string) bool {
	if ask.IsWord(c, "closed", rest) {
		for _, d := range days {
			s.Hours[d] = shop.Hours{}
		}
		return true
	}
	if h, why := ask.Reader(c).Hours(rest); why == when.OK && h != (shop.Hours{}) {
		for _, d := range days {
			s.Hours[d] = h
		}
		return true
	}
	p, word, ok := personIn(c, rest)
	if after, is := strings.CutPrefix(rest, c.V.Say("words.anybody")+" "); is {
		p, word, ok = shop.Person{}, after, true
	}
	if !ok || !ask.IsWord(c, "opens", word) && !ask.IsWord(c, "closes", word) {
		return false
	}
	for _, d := range days {
		if ask.IsWord(c, "opens", word) {
			s.Plan.Duty[d].Opens = p.ID
		} else {
			s.Plan.Duty[d].Closes = p.ID
		}
	}
	return true
}

// ladderIn finds the task a line about reminders begins with.
func ladderIn(c *engine.Talk, word string) (reminders.Task, bool) {
	i := slices.IndexFunc(ladderTasks(), func(t reminders.Task) bool {
		return ask.IsWord(c, "ladder-"+string(t), word)
	})
	if i < 0 {
		return "", false
	}
	return ladderTasks()[i], true
}

// planLadder reads "-15 list, 0 list, 60 managers, 90 owners", or "as usual".
func planLadder(c *engine.Talk, s *shop.Settings, task reminders.Task, rest string) bool {
	var rungs []shop.Rung
	for part := range strings.SplitSeq(rest, ",") {
		if ask.IsWord(c, "as-usual", strings.TrimSpace(rest)) {
			break
		}
		minutes, group, _ := strings.Cut(strings.TrimSpace(part), " ")
		after, err := strconv.Atoi(minutes)
		to := shop.Group("")
		for _, g := range []shop.Group{shop.List, shop.Managers, shop.Owners} {
			if ask.IsWord(c, "group-"+string(g), strings.TrimSpace(group)) {
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
