package day

import (
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/reminders"
	"shopfloat/internal/texts"
)

// LevelFlow notes what the machine shows, and says what it means.
func LevelFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoLevel, Title: "level", Version: 1, Start: begin(shownQuestion), Of: engine.ThatMoment,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.ThatDay, Part: 6, Loses: engine.LosesCounts,
		Stopped: engine.NothingBooked, Rights: whoCounts, Asks: []engine.Asked{shownQuestion},
		Commands: []engine.Command{{Name: engine.DoLevel, Does: engine.StartsDialog, Help: engine.HelpOften,
			Takes: engine.OnlyFigures, Menu: 3}},
		Cards: []engine.Standing{{Name: engine.DoLevel,
			Tap: func(c *engine.Talk, _ string) { c.CarryOut(engine.DoLevel) }}},
		Screens: map[string]engine.Screen{"shown": shownQuestion.Screen(),
			"review": ask.Booking{Read: readLevel, Book: bookLevel, Other: ask.Changes(anew("shown")),
				Answer: ask.TypedCounts(ask.Only(shownQuestion))}.Screen()},
	}
}

var shownQuestion = ask.Question{
	Name: "shown", Lines: ask.BoxLines, Check: ask.CheckFits, What: "what.shown",
	Next: func(*engine.Talk) string { return "review" },
}

// readLevel reads back what the machine shows.
func readLevel(c *engine.Talk) []chat.Block {
	if trade.Ready(c) == nil {
		return nil
	}
	table, _ := ask.CountTable(c, ask.BoxLines(c), shownQuestion.Values(c))
	return []chat.Block{{Text: c.V.Say("review.level")}, table}
}

// bookLevel notes what the machine shows and answers what it means: paid out
// since loading, how fast, and when each kind will run out before closing time.
func bookLevel(c *engine.Talk) {
	p := trade.Ready(c)
	if p == nil {
		return
	}
	lines, v := ask.BoxLines(c), shownQuestion.Values(c)
	if !booked(c, books.Record{Kind: books.Level, Period: p.No,
		Figures: ask.BoxFigures(books.Shown, lines, v, true)}) {
		return
	}
	if c.Hidden() {
		c.Close(chat.Block{Text: c.V.Say("level-noted", "when", c.Clock(c.When()))}, chat.Lines(c.V.Say("hidden")))
		return
	}
	next := []string{c.V.Say("paper-next")} // what was to come then is past
	if c.State.Draft.Happened.IsZero() {
		next = forecast(c, p, lines, v)
	}
	c.Close(chat.Block{Text: c.V.Say("level.head", "when", c.Clock(p.Opened))}, levelTable(c, p, lines, v),
		chat.Lines(next...))
}

func levelTable(c *engine.Talk, p *books.Period, lines []ask.Line, v []int64) chat.Block {
	rows := [][]string{{"", c.V.Say("col.left"), c.V.Say("col.paid"), c.V.Say("col.rate")}}
	for i, l := range lines {
		paid := p.Box(l.Box).Held - v[i]
		row := []string{c.V.Kind(l.Face), c.V.Number(v[i]), "-", "-"}
		if paid >= 0 {
			row[2], row[3] = c.V.Number(paid), c.V.Say("per-hour", "n", rate(p, paid, c.When()))
		}
		rows = append(rows, row)
	}
	return chat.Columns(1, rows)
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
func forecast(c *engine.Talk, p *books.Period, lines []ask.Line, v []int64) []string {
	day := reminders.On(c.F.Shop, reminders.Today(c.F.Shop, c.When()))
	var out []string
	for i, l := range lines {
		paid := p.Box(l.Box).Held - v[i]
		name := ask.LineName(c, lines, l)
		switch at, ok := runsOut(p, v[i], paid, c.When()); {
		case paid < 0:
			out = append(out, c.V.Say("level.more", "line", name, "n", c.V.Number(-paid)))
		case v[i] == 0:
			out = append(out, c.V.Say("level.empty", "line", name))
		case ok && at.Before(day.Close):
			out = append(out, c.V.Say("level.runs-out", "line", name, "when", c.Clock(at)))
		case v[i] <= ask.Boxes(c)[i].Low:
			out = append(out, c.V.Say("level.low", "line", name, "n", c.V.Number(v[i])))
		}
	}
	if len(out) == 0 {
		return []string{c.V.Say("level.enough")}
	}
	for i := range out {
		out[i] = texts.Upper(out[i])
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
