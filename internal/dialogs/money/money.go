package money

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
)

// CreditFlow records what the bank paid.
func CreditFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoCredit, Title: "credit", Version: 1, Start: startCredit, Draft: newDraft,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.BegunAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp),
		Bank:   &engine.Banking{},
		Commands: []engine.Command{
			{Name: engine.DoCredit, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}},
		Cards: []engine.Standing{{Name: engine.DoCredit, Tap: tapCredited}, {Name: engine.DoBank, Tap: tapBank}},
		Screens: map[string]engine.Screen{
			"amount": {Ask: askPaidAmount, Answer: answerPaidAmount, What: "what.credit"},
			"which":  whichClaim("what.credit-which"), "review": creditBooking()}}
}

// draft is what is kept of money between shop and bank until it is booked.
type draft struct {
	Amount decimal.Decimal `json:"amount,omitzero"`
	Of     []int64         `json:"of,omitempty"`    // the settlements it is for, oldest first
	Asked  bool            `json:"asked,omitempty"` // what it is for was asked: nothing is taken for granted
	Whole  books.Share     `json:"whole,omitempty"` // what it is if it is for no settlement
	About  shop.Date       `json:"about,omitzero"`  // the day a customer's claim is about
	Lot    int64           `json:"lot,omitempty"`   // the earlier payment that is matched
}

func newDraft() any { return &draft{} }

func drafted(c *engine.Talk) *draft { return engine.Drafted[draft](c) }

// bankPaid reports whether the dialog under way is about money the bank paid just now.
func bankPaid(c *engine.Talk) bool {
	f := c.Flow()
	return f != nil && f.Bank != nil && !f.Bank.Took
}

// bankTook reports whether the dialog under way is about money the bank took.
func bankTook(c *engine.Talk) bool {
	f := c.Flow()
	return f != nil && f.Bank != nil && f.Bank.Took
}

// startCredit takes what was typed at once: 1240 for monday.
func startCredit(c *engine.Talk) {
	c.GoTo("amount")
	if c.Rest != "" && !answerPaidAmount(c, c.Rest) {
		c.First(c.V.Say("not-amount", "near", c.Rest))
	}
}

func askPaidAmount(c *engine.Talk) *engine.Card {
	return &engine.Card{Body: []chat.Block{engine.Text(c.V.Say("ask." + c.State.Flow))}}
}

// answerPaidAmount takes an amount and, perhaps, the days it is for.
func answerPaidAmount(c *engine.Talk, s string) bool {
	value, rest, ok := money(c, s)
	if !ok {
		return false
	}
	drafted(c).Amount = value
	c.GoTo("which")
	if rest != "" && !answerWhichClaim(c, rest) {
		c.First(c.V.Say("credit.no-day", "near", rest))
	}
	return true
}

// paid is the amount in the draft.
func paid(c *engine.Talk) decimal.Decimal { return drafted(c).Amount }

// of are the settlements in the draft, oldest first.
func of(c *engine.Talk) []int64 { return drafted(c).Of }

func setOf(c *engine.Talk, list []int64) { drafted(c).Of = list }

// left is what is still due for the settlements in the draft.
func left(c *engine.Talk) decimal.Decimal {
	sum := decimal.Zero
	for _, seq := range of(c) {
		if x := c.M.Claim(seq); x != nil {
			sum = sum.Add(x.Left())
		}
	}
	return sum
}

// maxClaims bounds the buttons of a card.
const maxClaims = 6

// whichClaim asks what money from the bank, or back to it, is about.
func whichClaim(what string) engine.Screen {
	return ask.Pick{Head: askWhichClaim, Options: claimOptions, Answer: answerWhichClaim, What: what}.Screen()
}

// askWhichClaim asks what a payment is for, unless just one settlement is due
// for just this amount.
func askWhichClaim(c *engine.Talk) *engine.Card {
	if fits := c.M.FitsFor(0, paid(c), ask.MinorDigits(c)); len(fits) == 1 && bankPaid(c) &&
		!drafted(c).Asked {
		setOf(c, fits[0].Of)
		c.GoTo("review")
		return nil
	}
	return &engine.Card{
		Body: []chat.Block{engine.Text(c.V.Say("ask."+c.State.Flow+"-which", "money", c.V.Money(paid(c))))}}
}

// claimOptions are the settlements that money can be for, and what else it can be.
func claimOptions(c *engine.Talk) (list []ask.Option) {
	for i, x := range choices(c) {
		list = append(
			list,
			ask.Option{Value: "claim-" + strconv.Itoa(i), Label: c.V.Say("button.claim", "day", claimDay(c, x),
				"money", c.V.Money(worthOf(c, x))), Take: func(c *engine.Talk) {
				drafted(c).Whole = ""
				setOf(c, []int64{x.Seq})
				c.GoTo("review")
			}},
		)
	}
	whole := func(label, value, next string, beside bool) {
		list = append(list, ask.Option{Label: c.V.Say("button." + label), Value: value, Beside: beside,
			Take: func(c *engine.Talk) {
				drafted(c).Whole = books.Share(value)
				c.GoTo(next)
			}})
	}
	if bankTook(c) {
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
func choices(c *engine.Talk) []books.Claim {
	list := c.M.Due()
	if bankTook(c) {
		list = slices.DeleteFunc(slices.Clone(c.M.Claims),
			func(x books.Claim) bool { return !x.Paid.IsPositive() })
	}
	return list[max(len(list)-maxClaims, 0):]
}

// worthOf is what matters of a settlement: what is due, or what was paid.
func worthOf(c *engine.Talk, x books.Claim) decimal.Decimal {
	if bankTook(c) {
		return x.Paid
	}
	return x.Left()
}

// answerWhichClaim takes the days it is for, or another amount.
func answerWhichClaim(c *engine.Talk, s string) bool {
	of, ok := claimsOf(c, strings.ToLower(s))
	if value, rest, amount := money(c, s); amount && rest == "" && drafted(c).Lot == 0 {
		drafted(c).Amount = value
		return true
	}
	if !ok {
		return false
	}
	drafted(c).Asked = true
	if len(of) == 0 {
		c.First(c.V.Say("credit.none-then"))
		return true
	}
	setOf(c, of)
	c.GoTo("review")
	return true
}

// creditBooking reads a payment back. One that differs from what is due is
// booked as what it is said to mean.
func creditBooking() engine.Screen {
	means := ask.Pick{Head: askMeaning, Options: meanings}
	return ask.Booking{
		First: means.Card, Tap: means.Tap, Read: readCredit, Book: recordCredit("confirm"),
		Other: ask.Instead{Label: "change", Value: "which", Take: anotherClaim}, What: "what.credit-review",
	}.Screen()
}

// differsBy is what a payment is more than what is due; false where that does not matter.
func differsBy(c *engine.Talk) (decimal.Decimal, bool) {
	diff := paid(c).Sub(left(c))
	return diff, drafted(c).Whole == "" && !diff.IsZero()
}

// readCredit reads back a payment that fits, or that is for no settlement at all.
func readCredit(c *engine.Talk) []chat.Block {
	if whole := drafted(c).Whole; whole != "" {
		return []chat.Block{engine.Text(c.V.Say("credit.whole-"+string(whole), "money", c.V.Money(paid(c))))}
	}
	return []chat.Block{engine.Columns(1, besideDue(c)), engine.Text(c.V.Say("credit.fits"))}
}

// besideDue lines up what came and what was due.
func besideDue(c *engine.Talk) [][]string {
	return [][]string{{c.V.Say("credit.came"), c.V.Money(paid(c))},
		{c.V.Say("credit.due", "day", claimDays(c, of(c))), c.V.Money(left(c))}}
}

// askMeaning reads back a payment that does not fit, says what would, and asks
// what it means.
func askMeaning(c *engine.Talk) *engine.Card {
	diff, ok := differsBy(c)
	if !ok {
		return nil
	}
	rows := append(besideDue(c), []string{c.V.Say("credit.diff-" + trade.Sign(diff)), c.V.Money(diff.Abs())})
	return &engine.Card{
		Body: []chat.Block{engine.Columns(1, rows), engine.Text(append(fitLines(c), c.V.Say("credit.what"))...)}}
}

// anotherClaim asks anew what a payment is for.
func anotherClaim(c *engine.Talk) {
	d := drafted(c)
	d.Of, d.Whole, d.Asked = nil, "", true
	c.GoTo("which")
}

// meanings are what a payment can mean that differs from what is due.
func meanings(c *engine.Talk) (list []ask.Option) {
	diff, ok := differsBy(c)
	if !ok {
		return nil
	}
	for i, f := range fits(c) {
		if !slices.Equal(f.Of, of(c)) {
			list = append(
				list,
				ask.Option{Label: c.V.Say("button.fit", "day", claimDays(c, f.Of)), Value: "fit-" + strconv.Itoa(i),
					Take: func(c *engine.Talk) { setOf(c, f.Of) }},
			)
		}
	}
	means := func(label, as string) {
		list = append(list, ask.Option{Label: c.V.Say("button."+label, "money", c.V.Money(diff.Abs())), Value: as,
			Take: ask.UnlessOvertaken(recordCredit(as))})
	}
	if diff.IsNegative() {
		means("part", "part")
		means("charged", "charge")
	} else {
		means("fee", "fee")
		means("extra", "extra")
		means("rest-unknown", "unknown")
	}
	return append(list, ask.Option{Label: c.V.Say("button.message"), Value: "message", Take: bankMessage},
		ask.Option{Label: c.V.Say("button.change"), Value: "which", Take: anotherClaim})
}

func fits(c *engine.Talk) []books.Fit {
	of := of(c)
	if len(of) == 0 {
		return nil
	}
	fits := c.M.FitsFor(of[0], paid(c), ask.MinorDigits(c))
	return fits[:min(len(fits), trade.MaxFits)]
}

// fitLines say what the payment, or the difference, is exactly.
func fitLines(c *engine.Talk) []string {
	var lines []string
	for _, f := range fits(c) {
		if f.Why != books.FitsDue {
			lines = append(lines, c.V.Say("fit."+string(f.Why), "day", claimDays(c, f.Of), "money",
				c.V.Money(f.Value.Abs())))
		}
	}
	if len(lines) == 0 && len(of(c)) == 1 {
		lines = []string{c.V.Say("fit.nothing")}
	}
	return lines
}
