package past

import (
	"shopfloat/internal/access"
	"shopfloat/internal/across"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// everywhere answers a command for all shops of the speaker, where its words ask for that.
// In each shop they see what they may see there, whatever they may here.
func everywhere(c *engine.Talk, f *engine.Flow, cmd *engine.Command, rest string) (*engine.Command, bool) {
	if cmd == nil || c.F.Shop.Fresh || f != nil && c.Screen().Free {
		return cmd, false
	}
	rest, all := across.Asked(c.Teller, cmd.Name, rest)
	if !all {
		return cmd, false
	}
	c.Obey(&engine.Command{Name: across.Card, Does: engine.TellsOnly,
		Run: func(c *engine.Talk) { tellAll(c, across.Wish{What: cmd.Name, Words: rest, Page: 1}) }})
	return cmd, true
}

func tellAll(c *engine.Talk, w across.Wish) {
	of := across.Of(c.Teller, c.All, func(p shop.Person) bool {
		return !p.Disputed && c.E.Allows(p.Role, w.What)
	})
	if len(of) == 0 {
		c.Say(c.V.Say("may-not", "role", c.V.Say("role."+string(c.F.Person.Role))))
		return
	}
	c.Nowhere = true // each line says of which place it is
	for _, r := range across.Tell(c.Teller, of, w) {
		c.Send(r)
	}
}

// AllCard leads from a table over all shops into one of them, or to its next page.
func AllCard() engine.Standing {
	return engine.Standing{Name: across.Card,
		Rights: engine.May(access.Everyone, engine.OwnPhone, engine.OnceSetUp),
		Tap: func(c *engine.Talk, arg string) {
			w, ok := across.ParseWish(arg)
			switch {
			case !ok:
				c.UnknownTap()
			case w.Page > 0:
				tellAll(c, w)
			default:
				c.Rest = w.Words
				c.Obey(c.E.Named(w.What))
			}
		}}
}
