package day

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/lines"
	"shopfloat/internal/readback"
	"shopfloat/internal/telling"
)

var whoCounts = engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp)

// atMachine says of a dialog what all have in common in which one person counts notes at the open machine.
func atMachine(f engine.Flow) *engine.Flow {
	if f.Of == nil {
		f.Of = engine.ThatMoment
	}
	f.Version, f.Safe, f.Presence, f.Company = 1, engine.SafeOpen, engine.AtWork, engine.OneAtATime
	f.Tells, f.Again, f.Loses, f.Rights = engine.TellsNothing, engine.AnswersAgain, engine.LosesCounts, whoCounts
	if f.Stopped == nil {
		f.Stopped = engine.NothingBooked
	}
	return &f
}

// begin makes the start of a dialog about the open period that asks a question first.
func begin(q ask.Question) func(*engine.Talk) {
	return func(c *engine.Talk) {
		if trade.Ready(c) != nil {
			c.GoTo(q.Name)
			ask.Take(c, q.Answer)
		}
	}
}

// anew makes a tap that drops the counts of questions and asks for them from the first one on.
func anew(questions ...string) func(*engine.Talk) {
	return func(c *engine.Talk) {
		c.Unanswer(questions...)
		c.GoTo(questions[0])
	}
}

// instead goes over to another dialog with what was typed, as if it followed the word for that one.
func instead(c *engine.Talk, flow, rest string) {
	c.Enter(flow)
	c.Rest = rest
	c.E.Flows[flow].Start(c)
}

// booked records something; what the books refuse is said.
func booked(c *engine.Talk, r books.Record) bool {
	_, err := c.Record(r)
	if err != nil {
		c.Refuse(err)
	}
	return err == nil
}

// bookedInside records something about the open period. A card may stand there
// until others have closed it: then nothing is recorded, and the dialog ends.
func bookedInside(c *engine.Talk, r books.Record) bool {
	p := trade.Ready(c)
	if p != nil && p.Status == books.Waiting {
		r.Marks = append(r.Marks, books.AfterCount)
	}
	return p != nil && booked(c, r)
}

// empty reports that no notes were counted at all. That is said, and they are asked for again.
func empty(c *engine.Talk, q ask.Question) bool {
	if lines.Sum(q.Values(c)) > 0 {
		return false
	}
	c.First(c.V.Say("nothing-typed"))
	anew(q.Name)(c)
	return true
}

// listed reads back the lines of a question that have notes, below a sentence of
// the catalogue; nil where none has.
func listed(c *engine.Talk, q ask.Question, above string) []chat.Block {
	if empty(c, q) {
		return nil
	}
	return readback.Listed(c.Teller, q.Lines(c), q.Values(c), above)
}

// money is what the notes of a question come to.
func money(c *engine.Talk, q ask.Question) decimal.Decimal {
	_, total := telling.CountTable(c.Teller, q.Lines(c), q.Values(c))
	return total
}

// beyond are the doubts behind which a missing top-up can stand.
var beyond = []string{"left-more", "money-left", "not-there", "money-out"}

// checkOld asks back more notes left in a box than were ever put in.
func checkOld(c *engine.Talk, l ask.Line, n int64) ask.Doubt { return lines.Left(ask.Target(c), l, n) }

// checkAdded asks back what the box cannot hold on top of what is in it.
func checkAdded(c *engine.Talk, l ask.Line, n int64) ask.Doubt {
	return lines.Added(ask.Target(c), l, n, lines.UsualOf(loadLines(c), l))
}

// checkOutside asks back a move between till, safe and bank.
func checkOutside(c *engine.Talk, t transfer, l ask.Line, n int64) ask.Doubt {
	most := lines.UsualOf(loadLines(c), l)
	if t.from == books.Bank || t.to == books.Bank {
		most *= lines.WeekOfLoads
	}
	return lines.Outside(l, n, most, telling.Over(c.Teller, cashmath.Value(l.Face, n)))
}

// A missing top-up is recorded in the middle of another dialog.
var missedTopUp = ask.Question{
	Name: "added", Lines: ask.BoxLines, Partial: true, Check: checkAdded, What: "what.added",
	Next: func(*engine.Talk) string { return "added-review" },
}

// withMissedTopUp lets a question offer to record a missing top-up first; what
// was typed is kept and looked at again after it.
func withMissedTopUp(q ask.Question, screens map[string]engine.Screen) map[string]engine.Screen {
	s := q.Screen()
	s.Ask = func(c *engine.Talk) *engine.Card {
		_, d := q.Doubt(c, q.Lines(c), q.Values(c))
		k := q.Ask(c)
		if k != nil && slices.Contains(beyond, d.Why) {
			last := len(k.Buttons) - 1
			k.Buttons = slices.Insert(k.Buttons, last, c.Button("missed-topup", "missed-topup"))
		}
		return k
	}
	s.Taps["missed-topup"] = func(c *engine.Talk) {
		c.First(c.V.Say("missed-topup"))
		anew("added")(c)
	}
	book := func(c *engine.Talk) {
		if done, ok := recordTopUp(c); ok {
			c.First(done)
			c.Unanswer("added")
			c.GoTo(q.Name)
		}
	}
	screens[q.Name], screens["added"] = s, missedTopUp.Screen()
	screens["added-review"], screens["change"] = topUpBooking(book).Screen(), ask.ChangeLines(missedTopUp)
	for _, name := range []string{"added", "added-review", "change"} {
		s := screens[name]
		s.Title = "topup" // which is what they book, whatever the dialog is
		screens[name] = s
	}
	return screens
}
