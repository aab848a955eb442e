package money

import (
	"slices"
	"strconv"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
)

// MatchFlow says what an earlier payment was for.
func MatchFlow() *engine.Flow {
	return flow(engine.DoMatch, startMatch, map[string]engine.Screen{
		"lot": ask.Pick{Head: ask.Asking("ask.match"), Options: lotOptions, None: noLot,
			What: "what.match"}.Screen(),
		"which": ofLot(whichClaim("what.credit-which")), "review": ofLot(creditBooking())})
}

// ofLot keeps a screen to what is left of the payment that is matched. What
// another person matched meanwhile must not be booked as new money.
func ofLot(s engine.Screen) engine.Screen {
	asks := s.Ask
	s.Ask = func(c *engine.Talk) *engine.Card {
		l := lot(c)
		if l == nil {
			startMatch(c)
			return nil
		}
		drafted(c).Amount = l.Value
		return asks(c)
	}
	return s
}

// lots are the payments to choose from.
func lots(c *engine.Talk) []books.Loose {
	return slices.DeleteFunc(slices.Clone(c.M.Loose), func(l books.Loose) bool { return !l.Value.IsPositive() })
}

func startMatch(c *engine.Talk) {
	if len(lots(c)) == 0 {
		noLot(c)
		return
	}
	c.GoTo("lot")
}

func noLot(c *engine.Talk) { c.Close(chat.Lines(c.V.Say("match.none"))) }

func lotOptions(c *engine.Talk) (list []ask.Option) {
	lots := lots(c)
	for i, l := range lots[:min(len(lots), maxClaims)] {
		list = append(list, ask.Option{Value: "lot-" + strconv.Itoa(i), Label: c.V.Say("button.claim", "day",
			c.V.Day(c.Local(l.Happened)), "money", c.V.Money(l.Value)), Take: func(c *engine.Talk) {
			d := drafted(c)
			d.Lot, d.Amount, d.Asked = l.Seq, l.Value, true
			c.GoTo("which")
		}})
	}
	return list
}

// lot is the payment in the draft, or nil.
func lot(c *engine.Talk) *books.Loose {
	list := lots(c)
	i := slices.IndexFunc(list, func(l books.Loose) bool { return l.Seq == drafted(c).Lot })
	if i < 0 {
		return nil
	}
	return &list[i]
}
