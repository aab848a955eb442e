package dialogs

import (
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
)

func levelFlow() *flow {
	return &flow{
		name: doLevel, title: "level", version: 1, start: startLevel,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: thatDay, part: 6, loses: losesAnswers, stopped: nothingBooked,
		rights:   rights{access.Counting, anyPhone, onceSetUp},
		asks:     []asked{shownQuestion},
		commands: []command{{name: doLevel, does: startsDialog, help: helpOften, takes: onlyFigures, menu: 3}},
		cards:    []standing{{name: doLevel, tap: (*talk).tapLevel}},
		screens: map[string]screen{
			"shown": shownQuestion.screen(),
			"told":  {ask: tellLevel},
		},
	}
}

var shownQuestion = question{
	name: "shown", lines: boxLines, check: checkFits, what: "what.shown",
	next: func(*talk) string { return "told" },
}

func startLevel(c *talk) {
	if c.ready() == nil {
		return
	}
	c.goTo("shown")
	c.take(shownQuestion)
}

// tellLevel notes what the machine shows and answers what it means: paid out
// since loading, how fast, and when each kind will run out before closing time.
func tellLevel(c *talk) *card {
	p := c.target()
	if c.hidden() {
		c.close(Block{Text: c.v.Say("hidden")})
		return nil
	}
	lines, v := boxLines(c), shownQuestion.values(c)
	r := books.Record{Kind: books.Level, Period: p.No, Figures: boxFigures(books.Shown, lines, v, true)}
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		c.goTo("shown")
		return nil
	}
	body := []Block{{Text: c.v.Say("level.head", "when", c.clock(p.Opened))}, c.levelTable(p, lines, v)}
	if c.State.Draft.Happened.IsZero() { // what was to come then is past
		body = append(body, text(c.forecast(p, lines, v)...))
	} else {
		body = append(body, text(c.v.Say("paper-next")))
	}
	c.close(body...)
	return nil
}

func (c *talk) levelTable(p *books.Period, lines []line, v []int64) Block {
	rows := [][]string{{"", c.v.Say("col.left"), c.v.Say("col.paid"), c.v.Say("col.rate")}}
	for i, l := range lines {
		paid := p.Box(l.box).Held - v[i]
		row := []string{c.v.Kind(l.face), c.v.Number(v[i]), "-", "-"}
		if paid >= 0 {
			row[2], row[3] = c.v.Number(paid), c.v.Say("per-hour", "n", rate(p, paid, c.when()))
		}
		rows = append(rows, row)
	}
	return columns(1, rows)
}

// rate is notes paid out an hour since loading, to the nearest note.
func rate(p *books.Period, paid int64, now time.Time) int64 {
	minutes := int64(now.Sub(p.Opened) / time.Minute)
	if minutes <= 0 || paid <= 0 {
		return 0
	}
	return (paid*60 + minutes/2) / minutes
}

// forecast says for each box whether it will run out before closing time.
func (c *talk) forecast(p *books.Period, lines []line, v []int64) []string {
	day := reminders.On(c.f.Shop, reminders.Today(c.f.Shop, c.when()))
	var out []string
	for i, l := range lines {
		paid := p.Box(l.box).Held - v[i]
		name := c.lineName(lines, l)
		switch at, ok := runsOut(p, v[i], paid, c.when()); {
		case paid < 0:
			out = append(out, c.v.Say("level.more", "line", name, "n", c.v.Number(-paid)))
		case v[i] == 0:
			out = append(out, c.v.Say("level.empty", "line", name))
		case ok && at.Before(day.Close):
			out = append(out, c.v.Say("level.runs-out", "line", name, "when", c.clock(at)))
		case v[i] <= c.boxes()[i].Low:
			out = append(out, c.v.Say("level.low", "line", name, "n", c.v.Number(v[i])))
		}
	}
	for i := range out {
		out[i] = upper(out[i])
	}
	if len(out) == 0 {
		return []string{c.v.Say("level.enough")}
	}
	return out
}

// runsOut tells when the notes left will have been paid out at the pace so far.
func runsOut(p *books.Period, left, paid int64, now time.Time) (time.Time, bool) {
	since := now.Sub(p.Opened)
	if paid <= 0 || since < time.Minute {
		return time.Time{}, false
	}
	seconds := int64(since/time.Second) * left / paid
	return now.Add(time.Duration(seconds) * time.Second).Truncate(time.Minute), true
}

// curtain ends a dialog whose cards would tell figures while somebody counts.
func (c *talk) curtain(f *flow) bool {
	if f.tells == tellsNothing || !c.hidden() {
		return false
	}
	c.close(text(c.v.Say("hidden")))
	return true
}

// hidden reports whether somebody is counting this machine, so that nobody may
// see what should be there.
func (c *talk) hidden() bool {
	if c.screen().blind {
		return true
	}
	for _, a := range c.f.Others {
		if a.Blind {
			return true
		}
	}
	return false
}
