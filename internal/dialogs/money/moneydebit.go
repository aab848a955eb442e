package money

import (
	"cmp"
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
)

// DebitFlow records what the bank took.
func DebitFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoDebit, Title: "debit", Version: 1, Start: startCredit, Draft: newDraft,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.BegunAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Lasts:  true,
		Rights: engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp),
		Bank:   &engine.Banking{Took: true},
		Commands: []engine.Command{
			{Name: engine.DoDebit, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}},
		Screens: map[string]engine.Screen{
			"amount": {Ask: askPaidAmount, Answer: answerPaidAmount, What: "what.debit"},
			"which":  whichClaim("what.debit-which"),
			"about":  {Ask: ask.Asking("ask.debit-about"), Answer: answerAbout, What: "what.debit-about"},
			"review": ask.Booking{Read: readDebit, Book: bookDebit, Other: ask.Changes(engine.GoBack("which")),
				What: "what.debit-review"}.Screen(),
		}}
}

// answerAbout takes the day that a customer's claim is about, however long ago.
func answerAbout(c *engine.Talk, s string) bool {
	from, to, rest := trade.PastDays(c, strings.ToLower(s))
	if rest != "" || from != to {
		return false
	}
	c.State.Draft.Period = trade.PeriodOn(c, from)
	drafted(c).About = from
	if c.State.Draft.Period == 0 {
		c.First(c.V.Say("no-such-day", "day", c.V.Day(from.Time())))
		return true
	}
	c.GoTo("review")
	return true
}

func readDebit(c *engine.Talk) []chat.Block {
	why := cmp.Or(drafted(c).Whole, books.Pays)
	line := c.V.Say("debit."+string(why), "money", c.V.Money(paid(c)), "day", claimDays(c, of(c)))
	if why == books.Dispute {
		line = c.V.Say("debit.dispute", "money", c.V.Money(paid(c)), "day",
			c.V.Day(drafted(c).About.Time()))
	}
	return []chat.Block{engine.Text(line)}
}

func bookDebit(c *engine.Talk) {
	r := books.Record{Kind: books.Debit, Amounts: []books.Amount{{Field: books.Debited,
		Value: paid(c)}}, Parts: taken(c)}
	if drafted(c).Whole == books.Dispute {
		r.Period = c.State.Draft.Period
	}
	of := of(c)
	if _, err := c.Record(r); err != nil {
		c.Refuse(err)
		return
	}
	for _, seq := range of {
		if x := c.M.Claim(seq); x != nil {
			trade.RemindOf(c, *x)
		}
	}
	c.Close(engine.Text(c.V.Say("debit.recorded", "when", c.Clock(c.When())), stillDue(c, of)))
}

// loose stands in a draft for money that is there and for nothing known.
const loose books.Share = "loose"

// taken shares out what the bank took.
func taken(c *engine.Talk) []books.Part {
	rest := paid(c)
	var parts []books.Part
	take := func(as books.Share, of int64, most decimal.Decimal) {
		if v := decimal.Min(rest, most); v.IsPositive() {
			parts = append(parts, books.Part{As: as, Of: of, Value: v.Neg()})
			rest = rest.Sub(v)
		}
	}
	switch whole := drafted(c).Whole; whole {
	case books.Charge, books.Dispute:
		take(whole, 0, rest)
	case loose:
		for _, l := range slices.Backward(c.M.Loose) {
			take(l.As, l.Seq, l.Value)
		}
	default:
		for _, seq := range of(c) {
			if x := c.M.Claim(seq); x != nil {
				take(books.Pays, seq, x.Paid)
			}
		}
	}
	take(books.Unknown, 0, rest)
	return parts
}

// MatchFlow says what an earlier payment was for.
func MatchFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoMatch, Title: "match", Version: 1, Start: startMatch, Draft: newDraft,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsFigures,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Keeping, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoMatch, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords}},
		Screens: map[string]engine.Screen{
			"lot": ask.Pick{Head: ask.Asking("ask.match"), Options: lotOptions, None: noLot,
				What: "what.match"}.Screen(),
			"which":  whichClaim("what.credit-which"),
			"review": creditBooking(),
		}}
}

// lots are the payments to choose from.
func lots(c *engine.Talk) []books.Loose {
	return slices.DeleteFunc(slices.Clone(c.M.Loose),
		func(l books.Loose) bool { return !l.Value.IsPositive() })
}

func startMatch(c *engine.Talk) {
	if len(lots(c)) == 0 {
		noLot(c)
		return
	}
	c.GoTo("lot")
}

func noLot(c *engine.Talk) { c.Close(engine.Text(c.V.Say("match.none"))) }

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
