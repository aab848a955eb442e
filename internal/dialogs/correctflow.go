package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

// correctFlow lets a manager correct any past record: other figures, another
// day, or not at all.
func correctFlow() *flow {
	return &flow{
		name: doCorrect, title: "correct", start: startCorrect,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsFigures, again: answersAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights:   rights{access.Managing, anyPhone, onceSetUp},
		commands: []command{{name: doCorrect, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{
			"which": {ask: askRecord, answer: answerRecord, tap: tapRecord, what: "what.correct"},
			"how":   {ask: askWrong, tap: tapWrong, what: "what.correct-how"},
			"figures": {ask: askFigures, answer: answerFigures, tap: tapFigures,
				what: "what.correct-figures"},
			"to-day": {ask: askToDay, answer: answerToDay, what: "what.correct-day"},
			"reason": {ask: askCorrectReason, answer: answerCorrectReason, tap: tapCorrectReason,
				what: "what.correct-reason"},
			"review": {ask: askCorrection, what: "what.correct-review", taps: map[string]func(*talk){
				"confirm": confirmCorrection, "change": func(c *talk) { c.goTo("how") }}},
		}}
}

func startCorrect(c *talk) {
	if !c.hasLedger() {
		c.close(text(c.v.Say("hidden")))
		return
	}
	c.goTo("which")
	if c.rest != "" && !answerRecord(c, c.rest) {
		c.first(c.v.Say("correct.no-such", "near", c.rest))
	}
}

// maxRecords bounds the records to choose from.
const maxRecords = 8

// pool lists the records to choose from: the last ones, or those of a day.
func (c *talk) pool() []books.Entry {
	day := shop.Date(c.chosen("pool"))
	opened := map[int64]shop.Date{}
	var list []books.Entry
	for _, e := range books.InForce(c.ledger()) {
		date := reminders.Today(c.f.Shop, e.Happened)
		if e.Kind == books.Opening {
			opened[e.Seq] = reminders.DayOf(c.f.Shop, e.Happened)
			date = opened[e.Seq]
		} else if d, ok := opened[e.Period]; ok {
			date = d
		}
		if books.Correctable(e.Kind) && (day == "" || date == day) {
			list = append(list, e)
		}
	}
	return list[max(len(list)-maxRecords, 0):]
}

func askRecord(c *talk) *card {
	list := c.pool()
	if len(list) == 0 {
		c.close(text(c.v.Say("history.none")))
		return nil
	}
	k := &card{body: []Block{text(c.v.Say("ask.correct"))}}
	for _, e := range list {
		k.buttons = append(k.buttons, []Button{{c.v.Say("button.record", "n", e.Seq, "what",
			c.v.Say("kind."+string(e.Kind)),
			"when", c.clock(e.Happened)), "seq-" + itoa64(e.Seq)}})
	}
	return k
}

// answerRecord takes the number of a record, or a day to choose from.
func answerRecord(c *talk, s string) bool {
	s = strings.ToLower(strings.TrimSpace(s))
	if n, err := strconv.ParseInt(strings.Trim(s, "#. "), 10, 64); err == nil {
		return c.pickRecord(n)
	}
	from, to, rest := c.pastDays(s)
	if rest != "" || from != to {
		return false
	}
	c.choose("pool", string(from))
	if len(c.pool()) == 0 {
		delete(c.State.Draft.Choices, "pool")
		c.first(c.v.Say("no-such-day", "day", c.v.Day(from.Time())))
	}
	return true
}

func tapRecord(c *talk, choice string) bool {
	n, err := strconv.ParseInt(strings.TrimPrefix(choice, "seq-"), 10, 64)
	return err == nil && c.pickRecord(n)
}

// pickRecord chooses a record; the number of a correction stands for the record
// that it is about.
func (c *talk) pickRecord(seq int64) bool {
	all := c.ledger()
	if seq > 0 && seq <= int64(len(all)) && all[seq-1].Kind == books.Correction {
		seq = all[seq-1].Target
	}
	e, ok := c.original(seq)
	if !ok || !books.Correctable(e.Kind) {
		return false
	}
	pool := c.chosen("pool")
	c.State.Draft.Choices = nil
	if pool != "" {
		c.choose("pool", pool)
	}
	c.choose("seq", itoa64(seq))
	c.goTo("how")
	return true
}

// wrong is the record in the draft as it holds now.
func (c *talk) wrong() (books.Entry, bool) {
	seq, err := strconv.ParseInt(c.chosen("seq"), 10, 64)
	if err != nil {
		return books.Entry{}, false
	}
	return c.original(seq)
}

// entryLine words a record as history does.
func (c *talk) entryLine(e books.Entry) string {
	line := c.v.Say("history.line", "n", e.Seq, "when", c.clock(e.Happened), "what",
		c.v.Say("kind."+string(e.Kind)), "who", c.name(e.By))
	if s := c.figures(books.Brief{Kind: e.Kind, Figures: e.Figures, Amounts: e.Amounts, Moves: e.Moves,
		Reason: e.Reason}); s != "" {
		line += ": " + s
	}
	return line
}

func askWrong(c *talk) *card {
	e, ok := c.wrong()
	if !ok {
		c.goTo("which")
		return nil
	}
	k := &card{body: []Block{text(c.entryLine(e), c.v.Say("ask.correct-how"))}}
	if len(c.slots(e)) > 0 {
		k.buttons = append(k.buttons, c.button("correct-figures", "figures"))
	}
	if movable(e.Kind) {
		k.buttons = append(k.buttons, c.button("correct-day", "to-day"))
	}
	if e.Kind != books.Opening && e.Kind != books.Count {
		k.buttons = append(k.buttons, c.button("correct-never", "never"))
	}
	return k
}

// movable kinds may belong to another day; a count ends its own.
func movable(k books.Kind) bool { return k != books.Count && k != books.Matched }

func tapWrong(c *talk, choice string) bool {
	if !slices.Contains([]string{"figures", "to-day", "never"}, choice) {
		return false
	}
	delete(c.State.Draft.Choices, "never")
	if choice == "never" {
		c.choose("never", "yes")
		choice = "reason"
	}
	c.goTo(choice)
	return true
}

func askToDay(c *talk) *card { return &card{body: []Block{text(c.v.Say("ask.correct-day"))}} }

// answerToDay takes the day a record belongs to. What belongs to a period goes
// to that of the day.
func answerToDay(c *talk, s string) bool {
	from, to, rest := c.pastDays(strings.ToLower(s))
	e, ok := c.wrong()
	if rest != "" || from != to || !ok {
		return false
	}
	c.choose("date", string(from))
	delete(c.State.Draft.Choices, "period")
	if e.Kind != books.Opening && e.Period != 0 {
		no := c.periodOn(from)
		if no == 0 {
			c.first(c.v.Say("no-such-day", "day", c.v.Day(from.Time())))
			return true
		}
		c.choose("period", itoa64(no))
	}
	c.goTo("reason")
	return true
}
