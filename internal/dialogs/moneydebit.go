package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/shop"
)

// debitFlow records what the bank took.
func debitFlow() *flow {
	return &flow{
		name: doDebit, title: "debit", version: 1, start: startCredit,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsFigures, again: begunAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		lasts:    true,
		rights:   rights{access.Keeping, anyPhone, onceSetUp},
		bank:     &banking{took: true},
		commands: []command{{name: doDebit, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{
			"amount": {ask: askPaidAmount, answer: answerPaidAmount, what: "what.debit"},
			"which":  whichClaim("what.debit-which"),
			"about":  {ask: asking("ask.debit-about"), answer: answerAbout, what: "what.debit-about"},
			"review": booking{read: readDebit, book: bookDebit, other: changes(goBack("which")),
				what: "what.debit-review"}.screen(),
		}}
}

// answerAbout takes the day that a customer's claim is about, however long ago.
func answerAbout(c *talk, s string) bool {
	from, to, rest := c.pastDays(strings.ToLower(s))
	if rest != "" || from != to {
		return false
	}
	c.State.Draft.Period = c.periodOn(from)
	c.choose("about", string(from))
	if c.State.Draft.Period == 0 {
		c.first(c.v.Say("no-such-day", "day", c.v.Day(from.Time())))
		return true
	}
	c.goTo("review")
	return true
}

// periodOn finds the last period of a day of trading; 0 for none.
func (c *talk) periodOn(date shop.Date) int64 {
	no := int64(0)
	for _, p := range c.look().Periods {
		if c.dayOf(p) == date {
			no = p.No
		}
	}
	return no
}

// look gives the books with everything that ever was, to look back. Where they
// cannot be had it is what is at hand.
func (c *talk) look() *books.Machine {
	if c.f.Ask.Entries == nil {
		return c.m
	}
	m, err := books.History(c.m.ID, c.f.Ask.Entries())
	if err != nil {
		return c.m
	}
	return m
}

func readDebit(c *talk) []Block {
	why := c.chosen("whole")
	if why == "" {
		why = "pays"
	}
	line := c.v.Say("debit."+why, "money", c.v.Money(c.paid()), "day", c.claimDays(c.of()))
	if why == "dispute" {
		line = c.v.Say("debit.dispute", "money", c.v.Money(c.paid()), "day",
			c.v.Day(shop.Date(c.chosen("about")).Time()))
	}
	return []Block{text(line)}
}

func bookDebit(c *talk) {
	r := books.Record{Kind: books.Debit, Amounts: []books.Amount{{Field: books.Debited,
		Value: c.paid()}}, Parts: c.taken()}
	if c.chosen("whole") == "dispute" {
		r.Period = c.State.Draft.Period
	}
	of := c.of()
	if _, err := c.record(r); err != nil {
		c.refuse(err)
		return
	}
	for _, seq := range of {
		if x := c.m.Claim(seq); x != nil {
			c.remindOf(*x)
		}
	}
	c.close(text(c.v.Say("debit.recorded", "when", c.clock(c.when())), c.stillDue(of)))
}

// taken shares out what the bank took.
func (c *talk) taken() []books.Part {
	rest := c.paid()
	var parts []books.Part
	take := func(as books.Share, of int64, most decimal.Decimal) {
		if v := decimal.Min(rest, most); v.IsPositive() {
			parts = append(parts, books.Part{As: as, Of: of, Value: v.Neg()})
			rest = rest.Sub(v)
		}
	}
	switch whole := c.chosen("whole"); whole {
	case "charge", "dispute":
		take(books.Share(whole), 0, rest)
	case "loose":
		for _, l := range slices.Backward(c.m.Loose) {
			take(l.As, l.Seq, l.Value)
		}
	default:
		for _, seq := range c.of() {
			if x := c.m.Claim(seq); x != nil {
				take(books.Pays, seq, x.Paid)
			}
		}
	}
	take(books.Unknown, 0, rest)
	return parts
}

// matchFlow says what an earlier payment was for.
func matchFlow() *flow {
	return &flow{
		name: doMatch, title: "match", version: 1, start: startMatch,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsFigures, again: answersAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights:   rights{access.Keeping, anyPhone, onceSetUp},
		commands: []command{{name: doMatch, does: startsDialog, help: helpMore, takes: anyWords}},
		screens: map[string]screen{
			"lot":    pick{head: asking("ask.match"), options: lotOptions, none: noLot, what: "what.match"}.screen(),
			"which":  whichClaim("what.credit-which"),
			"review": creditBooking(),
		}}
}

// lots are the payments to choose from.
func (c *talk) lots() []books.Loose {
	return slices.DeleteFunc(slices.Clone(c.m.Loose),
		func(l books.Loose) bool { return !l.Value.IsPositive() })
}

func startMatch(c *talk) {
	if len(c.lots()) == 0 {
		noLot(c)
		return
	}
	c.goTo("lot")
}

func noLot(c *talk) { c.close(text(c.v.Say("match.none"))) }

func lotOptions(c *talk) (list []option) {
	lots := c.lots()
	for i, l := range lots[:min(len(lots), maxClaims)] {
		list = append(list, option{value: "lot-" + strconv.Itoa(i), label: c.v.Say("button.claim", "day",
			c.v.Day(c.local(l.Happened)), "money", c.v.Money(l.Value)), take: func(c *talk) {
			c.choose("lot", strconv.Itoa(i))
			c.choose("amount", l.Value.String())
			c.choose("asked", "yes")
			c.goTo("which")
		}})
	}
	return list
}

// lot is the payment in the draft, or nil.
func (c *talk) lot() *books.Loose {
	i, err := strconv.Atoi(c.chosen("lot"))
	if list := c.lots(); err == nil && i >= 0 && i < len(list) {
		return &list[i]
	}
	return nil
}
