// Package correct is the room where a manager corrects what is on record: other
// figures, another day, or that it never happened.
package correct

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/bygone"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// RecordFlow lets a manager correct any past record: other figures, another day, or not at all.
func RecordFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoCorrect, Title: "correct", Version: 1, Start: startCorrect, Of: engine.ThatMoment,
		Draft: func() any { return &draft{} },
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Managing, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoCorrect, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}},
		Screens: map[string]engine.Screen{
			"which": ask.Pick{Head: ask.Asking("ask.correct"), Options: recordOptions, Answer: answerRecord,
				None: func(c *engine.Talk) { c.Close(chat.Lines(c.V.Say("history.none"))) },
				What: "what.correct"}.Screen(),
			"how": ask.Pick{Head: askWrong, Options: wrongs, What: "what.correct-how"}.Screen(),
			"figures": ask.Pick{First: askSlot, Head: ask.Asking("ask.correct-figures"), Options: slotOptions,
				None: engine.GoBack("which"), Answer: answerFigures, What: "what.correct-figures"}.Screen(),
			"to-day": {Ask: ask.Asking("ask.correct-day"), Answer: answerToDay, What: "what.correct-day"},
			"reason": ask.Pick{Head: ask.Asking("ask.correct-reason"), Options: reasonOptions,
				Answer: answerCorrectReason, What: "what.correct-reason"}.Screen(),
			"review": ask.Booking{Read: readCorrection, Book: bookCorrection, Other: ask.Changes(engine.GoBack("how")),
				What: "what.correct-review"}.Screen(),
		}}
}

// draft is a correction until it is booked.
type draft struct {
	Pool   shop.Date                  `json:"pool,omitzero"`   // the day to choose a record of, if any
	Seq    int64                      `json:"seq,omitempty"`   // the record
	Never  bool                       `json:"never,omitempty"` // it never happened
	Date   shop.Date                  `json:"date,omitzero"`   // the day it belongs to
	Period int64                      `json:"period,omitempty"`
	Values map[string]decimal.Decimal `json:"values,omitempty"` // by slot
	Open   string                     `json:"open,omitempty"`   // the slot that is asked for
	Last   string                     `json:"last,omitempty"`   // the slot answered last
	Reason books.Reason               `json:"reason,omitempty"`
	Words  string                     `json:"words,omitempty"`
}

func drafted(c *engine.Talk) *draft { return engine.Drafted[draft](c) }

func startCorrect(c *engine.Talk) {
	if !c.HasLedger() {
		c.Close(chat.Lines(c.V.Say("hidden")))
		return
	}
	c.GoTo("which")
	if c.Rest != "" && !answerRecord(c, c.Rest) {
		c.First(c.V.Say("correct.no-such", "near", c.Rest))
	}
}

// maxRecords bounds the records to choose from, which are among the last so many.
const maxRecords, lastRecords = 8, 80

// pool lists the records to choose from: the last ones, or those of a day.
func pool(c *engine.Talk) []books.Entry {
	all := trade.Ledger(c, c.M.Seq-lastRecords)
	if drafted(c).Pool != "" {
		_, all = c.Lately(drafted(c).Pool)
	}
	list := bygone.Correctable(c.Teller, all, drafted(c).Pool)
	return list[max(len(list)-maxRecords, 0):]
}

func recordOptions(c *engine.Talk) (list []ask.Option) {
	for _, e := range pool(c) {
		label := c.V.Say("button.record", "n", e.Seq, "what", c.V.Say("kind."+string(e.Kind)),
			"when", c.Clock(e.Happened))
		list = append(list, ask.Option{Label: label, Value: "seq-" + strconv.FormatInt(e.Seq, 10),
			Take: func(c *engine.Talk) { pickRecord(c, e.Seq) }})
	}
	return list
}

// answerRecord takes the number of a record, or a day to choose from.
func answerRecord(c *engine.Talk, s string) bool {
	s = strings.ToLower(strings.TrimSpace(s))
	if n, err := strconv.ParseInt(strings.Trim(s, "#. "), 10, 64); err == nil {
		return pickRecord(c, n)
	}
	from, to, rest := telling.PastDays(c.Teller, s)
	if rest != "" || from != to {
		return false
	}
	drafted(c).Pool = from
	if len(pool(c)) == 0 {
		drafted(c).Pool = ""
		c.First(c.V.Say("no-such-day", "day", c.V.Day(from.Time())))
	}
	return true
}

// pickRecord chooses a record; the number of a correction stands for the record that it is about.
func pickRecord(c *engine.Talk, seq int64) bool {
	all := trade.Ledger(c, seq)
	if i := slices.IndexFunc(all, func(e books.Entry) bool { return e.Seq == seq }); i >= 0 &&
		all[i].Kind == books.Correction {
		seq = all[i].Target
	}
	e, ok := books.AsCorrected(trade.Ledger(c, seq), seq)
	if !ok || !books.Correctable(e.Kind) {
		return false
	}
	d := drafted(c)
	*d = draft{Pool: d.Pool, Seq: seq}
	c.GoTo("how")
	ownClosing(c, e)
	return true
}

// ownClosing ends a correction by whoever closed the day, where another has to make it:
// those are asked to. It reports whether that is so.
func ownClosing(c *engine.Talk, e books.Entry) bool {
	p := c.PeriodOf(cmp.Or(e.Period, e.Seq))
	if p == nil || p.Status != books.Closed || p.EndedBy != c.F.Person.ID {
		return false
	}
	others := access.CorrectsFor(&c.F.Shop.Settings, p.EndedBy)
	var called []string
	for _, o := range others {
		called = append(called, o.Name)
		c.TellPerson(o.ID, chat.Reply{Body: []chat.Block{chat.Lines(c.V.Say("told.own-closing",
			"who", c.F.Person.Name, "day", c.V.Day(c.DayOf(p).Time()), "n", e.Seq), telling.EntryLine(c.Teller, e))}})
	}
	if len(others) > 0 {
		c.Close(chat.Block{Text: c.V.Say("own-closing", "who", strings.Join(called, ", "))})
	}
	return len(others) > 0
}

// wrong is the record in the draft as it holds now.
func wrong(c *engine.Talk) (books.Entry, bool) {
	return books.AsCorrected(trade.Ledger(c, drafted(c).Seq), drafted(c).Seq)
}

func askWrong(c *engine.Talk) *engine.Card {
	e, ok := wrong(c)
	if !ok {
		c.GoTo("which")
		return nil
	}
	line := telling.EntryLine(c.Teller, e)
	return &engine.Card{Body: []chat.Block{chat.Lines(line, c.V.Say("ask.correct-how"))}}
}

// wrongs are what can be wrong with the record in the draft.
func wrongs(c *engine.Talk) (list []ask.Option) {
	e, ok := wrong(c)
	add := func(can bool, label, value string, take func(*engine.Talk)) {
		if ok && can {
			list = append(list, ask.Option{Label: c.V.Say("button." + label), Value: value, Take: take})
		}
	}
	wrong := func(never bool, next string) func(*engine.Talk) {
		return func(c *engine.Talk) {
			drafted(c).Never = never
			c.GoTo(next)
		}
	}
	add(len(slots(c, e)) > 0, "correct-figures", "figures", wrong(false, "figures"))
	add(movable(e.Kind), "correct-day", "to-day", wrong(false, "to-day"))
	add(e.Kind != books.Opening && e.Kind != books.Count, "correct-never", "never", wrong(true, "reason"))
	return list
}

// movable kinds may belong to another day; a count ends its own.
func movable(k books.Kind) bool { return k != books.Count && k != books.Matched }

// answerToDay takes the day a record belongs to. What belongs to a period goes to that of the day.
func answerToDay(c *engine.Talk, s string) bool {
	from, to, rest := telling.PastDays(c.Teller, strings.ToLower(s))
	e, ok := wrong(c)
	if rest != "" || from != to || !ok {
		return false
	}
	d := drafted(c)
	d.Date, d.Period = from, 0
	if e.Kind != books.Opening && e.Period != 0 {
		if d.Period = telling.PeriodOn(c.Teller, from); d.Period == 0 {
			c.First(c.V.Say("no-such-day", "day", c.V.Day(from.Time())))
			return true
		}
	}
	c.GoTo("reason")
	return true
}
