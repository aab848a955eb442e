package money

import (
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// maxClaims bounds the buttons of a card.
const maxClaims = 6

// whichClaim asks what money from the bank, or back to it, is about.
func whichClaim(what string) engine.Screen {
	return ask.Pick{Head: askWhichClaim, Options: claimOptions, Answer: answerWhichClaim, What: what}.Screen()
}

// askWhichClaim asks what a payment is for, unless just one settlement is due
// for just this amount.
func askWhichClaim(c *engine.Talk) *engine.Card {
	if fits := c.M.FitsFor(0, paid(c), c.Digits()); len(fits) == 1 && !bankTook(c) && !drafted(c).Asked {
		drafted(c).Of = fits[0].Of
		c.GoTo("review")
		return nil
	}
	return &engine.Card{
		Body: []chat.Block{chat.Lines(c.V.Say("ask."+c.State.Flow+"-which", "money", c.V.Money(paid(c))))}}
}

// claimOptions are the settlements that money can be for, and what else it can be.
func claimOptions(c *engine.Talk) (list []ask.Option) {
	for i, x := range choices(c) {
		worth := x.Left()
		if bankTook(c) {
			worth = x.Paid
		}
		list = append(list, ask.Option{Value: "claim-" + strconv.Itoa(i),
			Label: c.V.Say("button.claim", "day", telling.ClaimDay(c.Teller, x), "money", c.V.Money(worth)),
			Take: func(c *engine.Talk) {
				d := drafted(c)
				d.Whole, d.Of = "", []int64{x.Seq}
				c.GoTo("review")
			}})
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
	drafted(c).Of = of
	c.GoTo("review")
	return true
}

// claimsOf finds the settlements of the days that a text names, set apart by
// and. ok is false when it names none.
func claimsOf(c *engine.Talk, s string) (of []int64, ok bool) {
	s = strings.NewReplacer(",", " and ", "+", " and ", "&", " and ").Replace(s)
	for part := range strings.SplitSeq(s, " and ") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		from, to, rest := telling.PastDays(c.Teller, part)
		if rest != "" {
			return nil, false
		}
		ok = true
		for _, x := range c.M.Claims {
			if d := telling.SlipDay(c.Teller, x); from <= d && d <= to && !slices.Contains(of, x.Seq) {
				of = append(of, x.Seq)
			}
		}
	}
	slices.Sort(of)
	return of, ok
}

// money reads an amount at the beginning of a text, and the rest.
func money(c *engine.Talk, s string) (value decimal.Decimal, rest string, ok bool) {
	words := strings.Fields(s)
	for n := min(2, len(words)); n > 0; n-- {
		if value, ok = ask.Amount(c, strings.Join(words[:n], " ")); ok && value.IsPositive() {
			return value, strings.Join(words[n:], " "), true
		}
	}
	return value, s, false
}
