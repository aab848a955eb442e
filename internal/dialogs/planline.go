package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
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
		h, ok := spanIn(rest)
		s.Plan.Night = &h
		return ok
	}
	if c.isWord("reminders", word) {
		word, rest, _ = strings.Cut(rest, " ")
	}
	if task, ok := c.ladderIn(word); ok {
		return c.planLadder(s, task, rest)
	}
	days, rest, ok := c.weekdays(line)
	return ok && c.planDays(s, days, rest)
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
	day := c.nameIn("words.weekdays", rest)
	if day >= 0 {
		s.Plan.Summary = reminders.Weekdays()[day]
	}
	return day >= 0
}

// planDays lays down hours, or who opens or closes, for days of the week.
func (c *talk) planDays(s *shop.Settings, days []int, rest string) bool {
	if c.isWord("closed", rest) {
		for _, d := range days {
			s.Hours[d] = shop.Hours{}
		}
		return true
	}
	if h, ok := spanIn(rest); ok && h != (shop.Hours{}) {
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

// weekdays reads "mon-fri", "mon, wed and fri" or "every day" at the beginning
// of a line, and what follows. Days are numbered like time.Weekday.
func (c *talk) weekdays(line string) (days []int, rest string, ok bool) {
	for _, every := range c.v.List("words.every-day") {
		if after, is := strings.CutPrefix(line, every+" "); is {
			return []int{0, 1, 2, 3, 4, 5, 6}, strings.TrimSpace(after), true
		}
	}
	words := strings.Fields(strings.NewReplacer("–", "-", "-", " - ", ",", " ").Replace(line))
	span := false
	used := 0
	for _, w := range words {
		day := c.nameIn("words.weekdays", w)
		switch {
		case day >= 0 && span:
			for d := (days[len(days)-1] + 1) % 7; d != day; d = (d + 1) % 7 {
				days = append(days, d)
			}
			days, span = append(days, day), false
		case day >= 0:
			days = append(days, day)
		case c.isWord("to", w) && len(days) > 0 && !span:
			span = true
		case c.isWord("and", w):
		default:
			return days, strings.ReplaceAll(strings.Join(words[used:], " "), " - ", "-"), len(days) > 0 && !span
		}
		used++
	}
	return days, "", false
}

// spanIn reads 8-20, 8:00 to 20:30 or 8am-6pm.
func spanIn(s string) (shop.Hours, bool) {
	from, to, ok := strings.Cut(strings.NewReplacer(" to ", "-", "–", "-").Replace(s), "-")
	if !ok {
		return shop.Hours{}, false
	}
	open, left := timeOfDay(from)
	end, more := timeOfDay(to)
	return shop.Hours{Open: open, Close: end}, open >= 0 && open < 24*60 && end >= 0 && left == "" && more == ""
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
