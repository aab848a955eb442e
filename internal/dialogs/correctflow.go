package dialogs

import (
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
		name: doCorrect, title: "correct", version: 1, start: startCorrect,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsFigures, again: answersAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights:   rights{access.Managing, anyPhone, onceSetUp},
		commands: []command{{name: doCorrect, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{
			"which": pick{head: asking("ask.correct"), options: recordOptions, answer: answerRecord,
				none: func(c *talk) { c.close(text(c.v.Say("history.none"))) }, what: "what.correct"}.screen(),
			"how": pick{head: askWrong, options: wrongs, what: "what.correct-how"}.screen(),
			"figures": pick{first: askSlot, head: asking("ask.correct-figures"), options: slotOptions,
				none: goBack("which"), answer: answerFigures, what: "what.correct-figures"}.screen(),
			"to-day": {ask: asking("ask.correct-day"), answer: answerToDay, what: "what.correct-day"},
			"reason": pick{head: asking("ask.correct-reason"), options: reasonOptions, answer: answerCorrectReason,
				what: "what.correct-reason"}.screen(),
			"review": booking{read: readCorrection, book: bookCorrection, other: changes(goBack("how")),
				what: "what.correct-review"}.screen(),
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

func recordOptions(c *talk) (list []option) {
	for _, e := range c.pool() {
		label := c.v.Say("button.record", "n", e.Seq, "what", c.v.Say("kind."+string(e.Kind)),
			"when", c.clock(e.Happened))
		list = append(list, option{label: label, value: "seq-" + strconv.FormatInt(e.Seq, 10),
			take: func(c *talk) { c.pickRecord(e.Seq) }})
	}
	return list
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
		c.forget("pool")
		c.first(c.v.Say("no-such-day", "day", c.v.Day(from.Time())))
	}
	return true
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
	c.choose("seq", strconv.FormatInt(seq, 10))
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
	return &card{body: []Block{text(c.entryLine(e), c.v.Say("ask.correct-how"))}}
}

// wrongs are what can be wrong with the record in the draft.
func wrongs(c *talk) (list []option) {
	e, ok := c.wrong()
	add := func(can bool, label, value string, take func(*talk)) {
		if ok && can {
			list = append(list, option{label: c.v.Say("button." + label), value: value, take: take})
		}
	}
	add(len(c.slots(e)) > 0, "correct-figures", "figures", anew("figures", "never"))
	add(movable(e.Kind), "correct-day", "to-day", anew("to-day", "never"))
	add(e.Kind != books.Opening && e.Kind != books.Count, "correct-never", "never",
		choice("never", "yes", "reason"))
	return list
}

// movable kinds may belong to another day; a count ends its own.
func movable(k books.Kind) bool { return k != books.Count && k != books.Matched }

// answerToDay takes the day a record belongs to. What belongs to a period goes
// to that of the day.
func answerToDay(c *talk, s string) bool {
	from, to, rest := c.pastDays(strings.ToLower(s))
	e, ok := c.wrong()
	if rest != "" || from != to || !ok {
		return false
	}
	c.choose("date", string(from))
	c.forget("period")
	if e.Kind != books.Opening && e.Period != 0 {
		no := c.periodOn(from)
		if no == 0 {
			c.first(c.v.Say("no-such-day", "day", c.v.Day(from.Time())))
			return true
		}
		c.choose("period", strconv.FormatInt(no, 10))
	}
	c.goTo("reason")
	return true
}
