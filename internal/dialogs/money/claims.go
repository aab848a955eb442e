package money

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dues"
	"shopfloat/internal/owing"
	"shopfloat/internal/telling"
)

// maxClaims bounds the buttons of a card.
const maxClaims = 6

// whichClaim asks what money from the bank, or back to it, is about.
func whichClaim(what string) engine.Screen {
	return ask.Pick{Head: askWhichClaim, Options: claimOptions, Answer: answerWhichClaim, What: what}.Screen()
}

// askWhichClaim asks what a payment is for, unless it is just what is due for one
// day or several, or nearly that: then its card names the day, and the gap.
func askWhichClaim(c *engine.Talk) *engine.Card {
	if d := drafted(c); !bankTook(c) && !d.Asked {
		d.Of = dues.Suits(c.M, d.Net(), c.Digits())
		if len(d.Of) > 0 {
			c.GoTo("review")
			return nil
		}
	}
	return &engine.Card{
		Body: []chat.Block{chat.Lines(c.V.Say("ask."+c.State.Flow+"-which", "money", c.V.Money(paid(c))))}}
}

// claimButtons are the settlements that are due, or were paid where money goes
// back; the newest first page by page, each page in the order of the days.
func claimButtons(c *engine.Talk) (list []ask.Option) {
	w := dues.Wanted{Is: dues.Still, Order: dues.Newest, Limit: maxClaims + 1,
		Skip: c.State.Draft.Page * maxClaims}
	if bankTook(c) {
		w.Is = dues.Paid
	}
	page := c.Claims(w)
	older := len(page) > maxClaims
	page = page[:min(len(page), maxClaims)]
	for i, x := range slices.Backward(page) {
		worth := x.Worth()
		if bankTook(c) {
			worth = x.Paid
		}
		list = append(list, ask.Option{Value: "claim-" + strconv.Itoa(len(page)-1-i),
			Label: c.V.Say("button.claim", "day", telling.ClaimDay(c.Teller, x), "money", c.V.Money(worth)),
			Take: func(c *engine.Talk) {
				d := drafted(c)
				d.Whole, d.Of = "", []int64{x.Seq}
				c.GoTo(afterClaim(c))
			}})
	}
	if older {
		list = append(list, ask.Option{Value: "older", Label: c.V.Say("button.older-days"), Take: ask.NextPage})
	}
	return list
}

// afterClaim is the screen that follows the choice of days.
func afterClaim(c *engine.Talk) string {
	if drafted(c).Off {
		return "why"
	}
	return "review"
}

// claimOptions are the settlements that money can be for, and what else it can be.
func claimOptions(c *engine.Talk) []ask.Option {
	list := claimButtons(c)
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
		whole("debit-loose", string(dues.Loose), "review", false)
		return list
	}
	whole("credit-fee", "fee", "review", false)
	whole("credit-foreign", "foreign", "review", true)
	whole("credit-unknown", "unknown", "review", false)
	return list
}

// answerWhichClaim takes the days it is for, or another amount.
func answerWhichClaim(c *engine.Talk, s string) bool {
	d := drafted(c)
	if s = takeBeside(c, s); s == "" {
		return true
	}
	of, ok := owing.ClaimsNamed(c.Teller, strings.ToLower(s))
	if value, rest, amount := owing.MoneyFirst(c.Teller, s); amount && rest == "" && d.Lot == 0 && len(of) == 0 {
		d.Amount, d.Of = value, nil
		c.GoTo("which")
		return true
	}
	if !ok {
		return false
	}
	d.Asked = true
	if none := owing.NothingThere(c.Teller, of, bankTook(c)); none != "" {
		c.First(none)
		return true
	}
	d.Whole, d.Of = "", of
	c.GoTo(afterClaim(c))
	return true
}

// takeBeside takes what was typed with a payment: 1240 for monday, charges 12.50, fee 4,
// ref AB12. It gives what else was typed.
func takeBeside(c *engine.Talk, s string) string {
	d := drafted(c)
	if ref, rest := owing.Reference(c.Teller, s, c.In.Text); ref != "" && !d.Off {
		d.Ref, s = ref, rest
	}
	charged, fee, rest := owing.Beside(c.Teller, s)
	if !bankTook(c) && !d.Off && !charged.Add(fee).IsZero() && fee.LessThan(d.Amount) {
		d.Charged, d.Fee = charged, fee
		return rest
	}
	return s
}
