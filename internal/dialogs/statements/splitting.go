package statements

import (
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/settling"
	"shopfloat/internal/stated"
)

func askSplit(c *engine.Talk) *engine.Card {
	c.Nowhere = true
	shops := stated.Kept(c.Teller)
	return &engine.Card{Body: stated.Split(c.Teller, offer(c), drafted(c).Parts, shops)}
}

// splitOptions are the days that a part of the line may be for.
func splitOptions(c *engine.Talk) (list []ask.Option) {
	d := drafted(c)
	for i, p := range stated.OpenDays(c.Teller, d.Reading, offer(c), d.Parts) {
		label := stated.Label(stated.OpenDay(c.Teller, p, stated.Kept(c.Teller)))
		list = append(list, ask.Option{Label: label, Value: "p-" + strconv.Itoa(i), Take: func(c *engine.Talk) {
			drafted(c).Part = p
			c.GoTo("share")
		}})
	}
	return list
}

// askShare asks how much of the line is for the day that was tapped.
func askShare(c *engine.Talk) *engine.Card {
	c.Nowhere = true
	d := drafted(c)
	_, most, _ := offer(c).Shared(d.Parts, d.Part, decimal.Zero)
	said := stated.Share(c.Teller, offer(c), d.Parts, d.Part, stated.Kept(c.Teller))
	money := stated.PartMoney(c.Teller, most, d.Part)
	return &engine.Card{Body: []chat.Block{chat.Lines(said)}, Buttons: [][]chat.Button{
		c.Button("statement-share", "most", "money", money), c.Button("back", "back")}}
}

func shareMost(c *engine.Talk) {
	_, most, _ := offer(c).Shared(drafted(c).Parts, drafted(c).Part, decimal.Zero)
	share(c, most)
}

func answerShare(c *engine.Talk, s string) bool {
	amount, ok := ask.Amount(c, s)
	if ok {
		share(c, amount)
	}
	return ok
}

// share takes a part; once nothing is left of the line it is read back as any other.
func share(c *engine.Talk, value decimal.Decimal) {
	d, o := drafted(c), offer(c)
	parts, most, ok := o.Shared(d.Parts, d.Part, value)
	if d.Parts = parts; !ok {
		c.First(c.V.Say("statement.share-most", "money", stated.PartMoney(c.Teller, most, d.Part)))
		return
	}
	if c.State.Draft.Page = 0; o.Rest(parts).IsPositive() {
		c.GoTo("split")
		return
	}
	o.Ways = append(slices.Clip(o.Ways), settling.Way{Why: settling.ByHand, Parts: parts})
	d.Way, d.Parts = len(o.Ways)-1, nil
	c.GoTo("review")
}
