package money

import (
	"fmt"
	"strings"

	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/names"
	"shopfloat/internal/owing"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// splits are the other machines of the shop that what came too much can be for: one
// payment of the bank may be for several.
func splits(c *engine.Talk) (list []ask.Option) {
	over := drafted(c).Gap(c.M)
	for _, kit := range c.F.Shop.Machines {
		if kit.ID == c.M.ID || !over.IsPositive() || drafted(c).Lot != 0 {
			continue
		}
		list = append(list, ask.Option{Value: fmt.Sprintf("split-%d", kit.ID), Label: texts.Short(
			c.V.Say("button.split", "money", c.V.Money(over), "machine", kit.Name), texts.LabelMax),
			Take: ask.UnlessOvertaken(func(c *engine.Talk) { bookSplit(c, kit) })})
	}
	return list
}

// bookSplit books what is for this machine, and offers to book the rest there.
func bookSplit(c *engine.Talk, kit shop.Machine) {
	over := drafted(c).Gap(c.M)
	drafted(c).Amount = paid(c).Sub(over)
	if recordCredit("")(c); len(c.Records) == 0 {
		return
	}
	c.Send(owing.SplitCard(c.Teller, engine.DoSplit, owing.RestOf(c.Teller, over), kit, c.V.Say("split.rest"),
		c.V.Say("split.what", "money", c.V.Money(over), "machine", kit.Name)))
}

// tapSplit begins to book the rest of a payment at the machine of the card, or what was typed for it.
func tapSplit(c *engine.Talk, arg string) {
	name := engine.DoCredit
	for _, other := range []string{engine.DoCredit, engine.DoDebit, engine.DoWriteOff} {
		if short, ok := strings.CutPrefix(arg, other+"-"); ok {
			name, arg = other, short
		}
	}
	c.Rest = owing.Carried(c.Teller, arg)
	c.Obey(c.E.Named(name))
}

// elsewhere offers to go on at another machine, where one is named.
func elsewhere(c *engine.Talk) bool {
	kit, rest, short, left := owing.Elsewhere(c.Teller, c.Rest)
	if c.Rest = rest; kit == nil {
		return false
	}
	name := c.State.Flow
	c.End()
	if left != "" {
		left = c.V.Say("split.again", "words", names.Words(left))
	}
	c.Send(owing.SplitCard(c.Teller, engine.DoSplit, name+"-"+short, *kit,
		c.V.Say("split.elsewhere", "machine", kit.Name, "here", c.Kit.Name), left))
	return true
}
