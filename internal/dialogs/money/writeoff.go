package money

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/owing"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// maxWords bounds the words of a reason, in letters.
const maxWords = 200

// WriteOffFlow lets an owner give up what the bank owes, and say why.
func WriteOffFlow() *engine.Flow {
	why := ask.Pick{Head: ask.Asking("ask.write-off-why"), Options: forgoneReasons, Answer: answerForgoneWhy,
		What: "what.write-off-why"}.Screen()
	why.Free = true // a reason may begin like a command: the bank took it
	f := flow(engine.DoWriteOff, startWriteOff, map[string]engine.Screen{
		"which": ask.Pick{Head: ask.Asking("ask.write-off"), Options: claimButtons, Answer: answerForgone,
			None: func(c *engine.Talk) { c.Close(chat.Lines(c.V.Say("owed.none"))) },
			What: "what.write-off"}.Screen(),
		"why": why,
		"review": ask.Booking{Read: readForgone, Book: bookForgone, Other: ask.Changes(anotherClaim),
			What: "what.write-off-review"}.Screen()})
	f.Rights = engine.May(access.Owning, engine.AnyPhone, engine.OnceSetUp)
	f.Again = engine.BegunAgain
	return f
}

func startWriteOff(c *engine.Talk) {
	if elsewhere(c) {
		return
	}
	drafted(c).Off = true
	c.GoTo("which")
	if c.Rest != "" && !answerForgone(c, c.Rest) {
		c.First(telling.NoDay(c.Teller, c.Rest, "credit.no-day"))
	}
}

// answerForgone takes the days, and perhaps how much of them is given up.
func answerForgone(c *engine.Talk, s string) bool {
	if _, day := owing.ClaimsNamed(c.Teller, strings.ToLower(s)); !day {
		value, rest, _ := owing.MoneyFirst(c.Teller, s)
		drafted(c).Amount, s = value, rest
	}
	if s == "" || !answerWhichClaim(c, s) {
		return false
	}
	if _, sum := drafted(c).Forgone(c.M); c.State.Step == "why" && sum.IsZero() {
		c.First(c.V.Say("write-off.none", "day", telling.ClaimDays(c.Teller, of(c))))
		anotherClaim(c)
	}
	return true
}

func forgoneReasons(c *engine.Talk) (list []ask.Option) {
	for _, r := range []books.Reason{books.Unwilling, books.TooSmall, books.Differing} {
		list = append(list, ask.Option{Label: texts.Upper(c.V.Say("reason." + string(r))), Value: string(r),
			Take: func(c *engine.Talk) { forgoneWhy(c, r, "") }})
	}
	return list
}

func answerForgoneWhy(c *engine.Talk, s string) bool {
	forgoneWhy(c, books.Other, texts.Short(s, maxWords))
	return true
}

func forgoneWhy(c *engine.Talk, why books.Reason, words string) {
	drafted(c).Why, drafted(c).Words = why, words
	c.GoTo("review")
}

func readForgone(c *engine.Talk) []chat.Block {
	_, sum := drafted(c).Forgone(c.M)
	if sum.IsZero() { // it was paid meanwhile
		anotherClaim(c)
		return nil
	}
	d := drafted(c)
	return []chat.Block{chat.Lines(c.V.Say("write-off.review", "money", c.V.Money(sum), "day",
		telling.ClaimDays(c.Teller, d.Of), "why", owing.Why(c.Teller, d.Why, d.Words)),
		c.V.Say("write-off.means"))}
}

func bookForgone(c *engine.Talk) {
	d := drafted(c)
	parts, sum := drafted(c).Forgone(c.M)
	r := books.Record{Kind: books.WriteOff, Reason: d.Why, Words: d.Words, Parts: parts}
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	trade.QuietPaid(c, d.Of)
	c.Post(chat.Reply{To: chat.Audience{Managers: true, Own: true}, Body: []chat.Block{chat.Lines(
		c.V.Say("write-off.told"), c.V.Say("write-off.told-what", "money", c.V.Money(sum), "who",
			c.Called(c.F.Person), "day", telling.ClaimDays(c.Teller, d.Of), "why",
			owing.Why(c.Teller, d.Why, d.Words)))}})
	c.Close(chat.Lines(c.V.Say("write-off.recorded", "when", c.Clock(c.When())), stillDue(c)))
}
