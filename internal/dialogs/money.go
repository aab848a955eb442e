package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
)

// creditFlow records what the bank paid.
func creditFlow() *flow {
	return &flow{
		name: doCredit, title: "credit", version: 1, start: startCredit,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsFigures, again: begunAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights:   rights{access.Keeping, anyPhone, onceSetUp},
		bank:     &banking{},
		commands: []command{{name: doCredit, does: startsDialog, help: helpMore, takes: anyWords}},
		cards:    []standing{{name: doCredit, tap: (*talk).tapCredited}, {name: doBank, tap: (*talk).tapBank}},
		screens: map[string]screen{
			"amount": {ask: askPaidAmount, answer: answerPaidAmount, what: "what.credit"},
			"which":  whichClaim("what.credit-which"),
			"review": creditBooking(),
		}}
}

// bankPaid reports whether the dialog under way is about money the bank paid just now.
func (c *talk) bankPaid() bool {
	f := c.flow()
	return f != nil && f.bank != nil && !f.bank.took
}

// bankTook reports whether the dialog under way is about money the bank took.
func (c *talk) bankTook() bool {
	f := c.flow()
	return f != nil && f.bank != nil && f.bank.took
}

// startCredit takes what was typed at once: 1240 for monday.
func startCredit(c *talk) {
	c.goTo("amount")
	if c.rest != "" && !answerPaidAmount(c, c.rest) {
		c.first(c.v.Say("not-amount", "near", c.rest))
	}
}

func askPaidAmount(c *talk) *card { return &card{body: []Block{text(c.v.Say("ask." + c.State.Flow))}} }

// answerPaidAmount takes an amount and, perhaps, the days it is for.
func answerPaidAmount(c *talk, s string) bool {
	value, rest, ok := c.money(s)
	if !ok {
		return false
	}
	c.choose("amount", value.String())
	c.goTo("which")
	if rest != "" && !answerWhichClaim(c, rest) {
		c.first(c.v.Say("credit.no-day", "near", rest))
	}
	return true
}

// paid is the amount in the draft.
func (c *talk) paid() decimal.Decimal { return amountOf(c.chosen("amount")) }

// of are the settlements in the draft, oldest first.
func (c *talk) of() []int64 {
	var list []int64
	for s := range strings.SplitSeq(c.chosen("of"), ".") {
		if n, err := strconv.ParseInt(s, 10, 64); err == nil {
			list = append(list, n)
		}
	}
	return list
}

func (c *talk) setOf(list []int64) {
	words := make([]string, len(list))
	for i, n := range list {
		words[i] = strconv.FormatInt(n, 10)
	}
	c.choose("of", strings.Join(words, "."))
}

// left is what is still due for the settlements in the draft.
func (c *talk) left() decimal.Decimal {
	sum := decimal.Zero
	for _, seq := range c.of() {
		if x := c.m.Claim(seq); x != nil {
			sum = sum.Add(x.Left())
		}
	}
	return sum
}

// maxClaims bounds the buttons of a card.
const maxClaims = 6

// whichClaim asks what money from the bank, or back to it, is about.
func whichClaim(what string) screen {
	return pick{head: askWhichClaim, options: claimOptions, answer: answerWhichClaim, what: what}.screen()
}

// askWhichClaim asks what a payment is for, unless just one settlement is due
// for just this amount.
func askWhichClaim(c *talk) *card {
	if fits := c.m.FitsFor(0, c.paid(), c.minorDigits()); len(fits) == 1 && c.bankPaid() &&
		c.chosen("asked") == "" {
		c.setOf(fits[0].Of)
		c.goTo("review")
		return nil
	}
	return &card{body: []Block{text(c.v.Say("ask."+c.State.Flow+"-which", "money", c.v.Money(c.paid())))}}
}

// claimOptions are the settlements that money can be for, and what else it can be.
func claimOptions(c *talk) (list []option) {
	for i, x := range c.choices() {
		list = append(list, option{value: "claim-" + strconv.Itoa(i), label: c.v.Say("button.claim", "day", c.claimDay(x),
			"money", c.v.Money(c.worthOf(x))), take: func(c *talk) {
			c.forget("whole")
			c.setOf([]int64{x.Seq})
			c.goTo("review")
		}})
	}
	whole := func(label, value, next string, beside bool) {
		list = append(list, option{label: c.v.Say("button." + label), value: value, beside: beside,
			take: choice("whole", value, next)})
	}
	if c.bankTook() {
		whole("debit-dispute", "dispute", "about", false)
		whole("debit-charge", "charge", "review", false)
		whole("debit-loose", "loose", "review", false)
		return list
	}
	whole("credit-fee", "fee", "review", false)
	whole("credit-foreign", "foreign", "review", true)
	whole("credit-unknown", "unknown", "review", false)
	return list
}

// choices are the settlements to choose from: what is due, or was paid lately.
func (c *talk) choices() []books.Claim {
	list := c.m.Due()
	if c.bankTook() {
		list = slices.DeleteFunc(slices.Clone(c.m.Claims),
			func(x books.Claim) bool { return !x.Paid.IsPositive() })
	}
	return list[max(len(list)-maxClaims, 0):]
}

// worthOf is what matters of a settlement: what is due, or what was paid.
func (c *talk) worthOf(x books.Claim) decimal.Decimal {
	if c.bankTook() {
		return x.Paid
	}
	return x.Left()
}

// answerWhichClaim takes the days it is for, or another amount.
func answerWhichClaim(c *talk, s string) bool {
	of, ok := c.claimsOf(strings.ToLower(s))
	if value, rest, amount := c.money(s); amount && rest == "" && c.chosen("lot") == "" {
		c.choose("amount", value.String())
		return true
	}
	if !ok {
		return false
	}
	c.choose("asked", "yes")
	if len(of) == 0 {
		c.first(c.v.Say("credit.none-then"))
		return true
	}
	c.setOf(of)
	c.goTo("review")
	return true
}

// creditBooking reads a payment back. One that differs from what is due is
// booked as what it is said to mean.
func creditBooking() screen {
	means := pick{head: askMeaning, options: meanings}
	return booking{
		first: means.card, tap: means.tap, read: readCredit, book: recordCredit("confirm"),
		other: instead{"change", "which", anotherClaim}, what: "what.credit-review",
	}.screen()
}

// differsBy is what a payment is more than what is due; false where that does not matter.
func (c *talk) differsBy() (decimal.Decimal, bool) {
	diff := c.paid().Sub(c.left())
	return diff, c.chosen("whole") == "" && !diff.IsZero()
}

// readCredit reads back a payment that fits, or that is for no settlement at all.
func readCredit(c *talk) []Block {
	if whole := c.chosen("whole"); whole != "" {
		return []Block{text(c.v.Say("credit.whole-"+whole, "money", c.v.Money(c.paid())))}
	}
	return []Block{columns(1, c.besideDue()), text(c.v.Say("credit.fits"))}
}

// besideDue lines up what came and what was due.
func (c *talk) besideDue() [][]string {
	return [][]string{{c.v.Say("credit.came"), c.v.Money(c.paid())},
		{c.v.Say("credit.due", "day", c.claimDays(c.of())), c.v.Money(c.left())}}
}

// askMeaning reads back a payment that does not fit, says what would, and asks
// what it means.
func askMeaning(c *talk) *card {
	diff, ok := c.differsBy()
	if !ok {
		return nil
	}
	rows := append(c.besideDue(), []string{c.v.Say("credit.diff-" + sign(diff)), c.v.Money(diff.Abs())})
	return &card{body: []Block{columns(1, rows), text(append(c.fitLines(), c.v.Say("credit.what"))...)}}
}

// anotherClaim asks anew what a payment is for.
func anotherClaim(c *talk) {
	c.forget("of", "whole")
	c.choose("asked", "yes")
	c.goTo("which")
}

func sign(d decimal.Decimal) string {
	if d.IsNegative() {
		return "less"
	}
	return "more"
}

// meanings are what a payment can mean that differs from what is due.
func meanings(c *talk) (list []option) {
	diff, ok := c.differsBy()
	if !ok {
		return nil
	}
	for i, f := range c.fits() {
		if !slices.Equal(f.Of, c.of()) {
			list = append(list, option{label: c.v.Say("button.fit", "day", c.claimDays(f.Of)), value: "fit-" + strconv.Itoa(i),
				take: func(c *talk) { c.setOf(f.Of) }})
		}
	}
	means := func(label, as string) {
		list = append(list, option{label: c.v.Say("button."+label, "money", c.v.Money(diff.Abs())), value: as,
			take: unlessOvertaken(recordCredit(as))})
	}
	if diff.IsNegative() {
		means("part", "part")
		means("charged", "charge")
	} else {
		means("fee", "fee")
		means("extra", "extra")
		means("rest-unknown", "unknown")
	}
	return append(list, option{label: c.v.Say("button.message"), value: "message", take: bankMessage},
		option{label: c.v.Say("button.change"), value: "which", take: anotherClaim})
}

// maxFits bounds what is said about a payment.
const maxFits = 2

func (c *talk) fits() []books.Fit {
	of := c.of()
	if len(of) == 0 {
		return nil
	}
	fits := c.m.FitsFor(of[0], c.paid(), c.minorDigits())
	return fits[:min(len(fits), maxFits)]
}

// fitLines say what the payment, or the difference, is exactly.
func (c *talk) fitLines() []string {
	var lines []string
	for _, f := range c.fits() {
		if f.Why != books.FitsDue {
			lines = append(lines, c.v.Say("fit."+string(f.Why), "day", c.claimDays(f.Of), "money",
				c.v.Money(f.Value.Abs())))
		}
	}
	if len(lines) == 0 && len(c.of()) == 1 {
		lines = []string{c.v.Say("fit.nothing")}
	}
	return lines
}
