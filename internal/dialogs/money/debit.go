package money

import (
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/owing"
	"shopfloat/internal/telling"
)

// DebitFlow records what the bank took.
func DebitFlow() *engine.Flow {
	f := flow(engine.DoDebit, startCredit, map[string]engine.Screen{
		"amount": {Ask: askPaidAmount, Answer: answerPaidAmount, What: "what.debit"},
		"which":  whichClaim("what.debit-which"),
		"about":  {Ask: ask.Asking("ask.debit-about"), Answer: answerAbout, What: "what.debit-about"},
		"review": ask.Booking{Read: readDebit, Book: bookDebit, Other: ask.Changes(engine.GoBack("which")),
			What: "what.debit-review"}.Screen(),
	})
	f.Again, f.Bank, f.Lasts = engine.BegunAgain, &engine.Banking{Took: true}, true
	return f
}

// answerAbout takes the day that a customer's claim is about, however long ago.
func answerAbout(c *engine.Talk, s string) bool {
	from, to, rest := telling.PastDays(c.Teller, strings.ToLower(s))
	if rest != "" || from != to {
		return false
	}
	c.State.Draft.Period = telling.PeriodOn(c.Teller, from)
	drafted(c).About = from
	if c.State.Draft.Period == 0 {
		c.First(c.V.Say("no-such-day", "day", c.DayYear(from)))
		return true
	}
	c.GoTo("review")
	return true
}

func readDebit(c *engine.Talk) []chat.Block {
	return owing.Taken(c.Teller, &drafted(c).Line, drafted(c).About)
}

func bookDebit(c *engine.Talk) {
	r := books.Record{Kind: books.Debit, Ref: drafted(c).Ref, Parts: drafted(c).Taken(c.M),
		Amounts: []books.Amount{{Field: books.Debited, Value: paid(c)}}}
	if drafted(c).Whole == books.Dispute {
		r.Period = c.State.Draft.Period
	}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	for _, x := range c.M.ClaimsOf(of(c)) {
		trade.RemindOf(c, x)
	}
	c.Close(chat.Lines(c.V.Say("debit.recorded", "when", c.Clock(c.When())), stillDue(c)))
}
