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
		name: doCredit, title: "credit", start: startCredit,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsFigures, again: begunAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights:   rights{access.Keeping, anyPhone, onceSetUp},
		bank:     &banking{},
		commands: []command{{name: doCredit, does: startsDialog, help: helpMore, takes: anyWords}},
		cards:    []standing{{name: doCredit, tap: (*Engine).tapCredited}, {name: doBank, tap: (*Engine).tapBank}},
		screens: map[string]screen{
			"amount": {ask: askPaidAmount, answer: answerPaidAmount, what: "what.credit"},
			"which": {ask: askWhichClaim, answer: answerWhichClaim, tap: tapWhichClaim,
				what: "what.credit-which"},
			"review": {ask: askCreditReview, tap: tapCredit, what: "what.credit-review"},
		}}
}

// bankPaid reports whether the dialog under way is about money the bank paid just now.
func (c *talk) bankPaid() bool {
	f := c.e.flow(c)
	return f != nil && f.bank != nil && !f.bank.took
}

// bankTook reports whether the dialog under way is about money the bank took.
func (c *talk) bankTook() bool {
	f := c.e.flow(c)
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
		words[i] = itoa64(n)
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

// askWhichClaim asks what a payment is for, unless just one settlement is due
// for just this amount.
func askWhichClaim(c *talk) *card {
	if fits := c.m.FitsFor(0, c.paid(), c.minorDigits()); len(fits) == 1 && c.bankPaid() &&
		c.chosen("asked") == "" {
		c.setOf(fits[0].Of)
		c.goTo("review")
		return nil
	}
	k := &card{body: []Block{text(c.v.Say("ask."+c.State.Flow+"-which", "money", c.v.Money(c.paid())))}}
	for i, x := range c.choices() {
		k.buttons = append(k.buttons, []Button{{c.v.Say("button.claim", "day", c.claimDay(x), "money",
			c.v.Money(c.worthOf(x))), "claim-" + itoa(i)}})
	}
	if c.bankTook() {
		return k.more(c.button("debit-dispute", "dispute"), c.button("debit-charge", "charge"),
			c.button("debit-loose", "loose"))
	}
	k.add2(c.button("credit-fee", "fee"), c.button("credit-foreign", "foreign"))
	return k.more(c.button("credit-unknown", "unknown"))
}

func (k *card) more(rows ...[]Button) *card {
	k.buttons = append(k.buttons, rows...)
	return k
}

// add2 puts two buttons into one row.
func (k *card) add2(a, b []Button) { k.buttons = append(k.buttons, append(a, b...)) }

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

func tapWhichClaim(c *talk, choice string) bool {
	list := c.choices()
	i, err := strconv.Atoi(strings.TrimPrefix(choice, "claim-"))
	if err == nil && i >= 0 && i < len(list) {
		c.setOf([]int64{list[i].Seq})
		c.goTo("review")
		return true
	}
	if !slices.Contains([]string{"fee", "foreign", "unknown"}, choice) {
		return false
	}
	c.choose("whole", choice)
	c.goTo("review")
	return true
}

// askCreditReview reads the payment back beside what is due, says what fits
// exactly, and offers what it can mean.
func askCreditReview(c *talk) *card {
	if whole := c.chosen("whole"); whole != "" {
		return &card{body: []Block{text(c.v.Say("credit.whole-"+whole, "money", c.v.Money(c.paid())),
			c.v.Say("right"))},
			buttons: [][]Button{c.button("confirm", "confirm"), c.button("change", "which")}}
	}
	diff := c.paid().Sub(c.left())
	rows := [][]string{{c.v.Say("credit.came"), c.v.Money(c.paid())},
		{c.v.Say("credit.due", "day", c.claimDays(c.of())), c.v.Money(c.left())}}
	if !diff.IsZero() {
		rows = append(rows, []string{c.v.Say("credit.diff-" + sign(diff)), c.v.Money(diff.Abs())})
	}
	k := &card{body: []Block{columns(1, rows)}}
	if diff.IsZero() {
		k.body = append(k.body, text(c.v.Say("credit.fits"), c.v.Say("right")))
		return k.more(c.button("confirm", "confirm"), c.button("change", "which"))
	}
	k.body = append(k.body, text(append(c.fitLines(), c.v.Say("credit.what"))...))
	return k.more(c.creditButtons(diff)...)
}

func sign(d decimal.Decimal) string {
	if d.IsNegative() {
		return "less"
	}
	return "more"
}

// creditButtons are what a payment can mean that differs from what is due.
func (c *talk) creditButtons(diff decimal.Decimal) [][]Button {
	var rows [][]Button
	for i, f := range c.fits() {
		if !slices.Equal(f.Of, c.of()) {
			rows = append(rows, []Button{{c.v.Say("button.fit", "day", c.claimDays(f.Of)), "fit-" + itoa(i)}})
		}
	}
	money := c.v.Money(diff.Abs())
	if diff.IsNegative() {
		rows = append(rows, c.button("part", "part", "money", money),
			c.button("charged", "charge", "money", money))
	} else {
		rows = append(rows, c.button("fee", "fee", "money", money),
			c.button("extra", "extra", "money", money))
		rows = append(rows, c.button("rest-unknown", "unknown", "money", money))
	}
	return append(rows, c.button("message", "message"), c.button("change", "which"))
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
