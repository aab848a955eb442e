package reminding

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
)

// holdDraft is the hold that waits for a yes.
type holdDraft struct {
	Until shop.Date `json:"until,omitempty"`
	Why   string    `json:"why,omitempty"`
}

// HoldFlow forbids loading the machine until a manager lifts it.
func HoldFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoHold, Title: "hold", Version: 1, Draft: func() any { return &holdDraft{} }, Start: startHold,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: losesWaiting, Stopped: engine.NothingBooked,
		Rights: engine.May(access.Counting, engine.AnyPhone, engine.OnceSetUp),
		Commands: []engine.Command{
			{Name: engine.DoHold, Does: engine.StartsDialog, Help: engine.HelpMore, Takes: engine.AnyWords},
			{Name: engine.DoLift, Does: engine.TellsOnly, Help: engine.HelpNever, Takes: engine.AnyWords, Run: lift,
				Rights: engine.Rights{Role: access.Managing}},
		},
		Cards: []engine.Standing{{Name: engine.DoLift, Rights: engine.Rights{Role: access.Managing}, Tap: tapLift}},
		Screens: map[string]engine.Screen{
			"ask": ask.Booking{Read: readHold, Book: bookHold, Plan: true, What: "what.hold"}.Screen()},
	}
}

// whyMax bounds, in bytes, the reason kept with a hold.
const whyMax = 120

// losesWaiting: what was said waits for a yes from the first card on.
func losesWaiting(*engine.Talk) bool { return true }

// startHold reads "until friday, police warning"; both parts may be missing.
func startHold(c *engine.Talk) {
	if !c.F.Person.Role.Manages() {
		c.Close(chat.Block{Text: c.V.Say("hold.manager")})
		return
	}
	words, why := strings.Fields(c.Rest), c.Rest
	d := engine.Drafted[holdDraft](c)
	if len(words) > 0 && c.IsWord("until", strings.Trim(words[0], ",")) {
		_, until, rest := telling.Days(c.Teller, c.Rest)
		d.Until, why = until, rest
	}
	why = strings.Trim(why, " ,.;:")
	if len(why) > whyMax {
		c.Close(chat.Block{Text: c.V.Say("hold.long")})
		return
	}
	d.Why = why
	c.GoTo("ask")
}

func readHold(c *engine.Talk) []chat.Block {
	return []chat.Block{holdText(c, heldFor(c), "hold.lasts")}
}

// holdText tells of a hold, and what is to be done about it.
func holdText(c *engine.Talk, h shop.Hold, id string) chat.Block {
	return chat.Lines(append(telling.HoldLines(c.Teller, h), c.V.Say(id))...)
}

// liftable tells of the hold in force, with a button that lifts it.
func liftable(c *engine.Talk, id string) chat.Reply {
	return chat.Reply{Body: []chat.Block{holdText(c, *c.F.Shop.Plan.Hold, id)},
		Buttons: telling.LiftButton(c.Teller),
		Key:     telling.HoldKey, Retire: telling.HoldKey}
}

// heldFor is the hold that waits for a yes.
func heldFor(c *engine.Talk) shop.Hold {
	d := engine.Drafted[holdDraft](c)
	return shop.Hold{Until: d.Until, Why: d.Why, By: c.F.Person.ID}
}

func bookHold(c *engine.Talk) {
	if !c.F.Person.Role.Manages() {
		c.Close(chat.Block{Text: c.V.Say("hold.manager")})
		return
	}
	h := heldFor(c)
	h.At = c.In.At.UTC()
	next := c.F.Shop.Settings
	next.Plan.Hold = &h
	c.Settings = &next
	c.Close(chat.Lines(c.V.Say("hold.set", "when", c.Clock(c.In.At)), c.V.Say("hold.lift-how")))
	c.Everybody(chat.Lines(telling.HoldLines(c.Teller, h)...))
}

// lift ends the hold, for a manager.
func lift(c *engine.Talk) {
	switch {
	case c.F.Shop.Plan.Hold == nil:
		c.Say(c.V.Say("hold.none"))
	case !c.F.Person.Role.Manages():
		c.Say(c.V.Say("hold.manager"))
	default:
		c.Send(liftable(c, "hold.lift-ask"))
	}
}

// tapLift lifts the hold.
func tapLift(c *engine.Talk, _ string) {
	if !manages(c) {
		return
	}
	if c.F.Shop.Plan.Hold != nil {
		next := c.F.Shop.Settings
		next.Plan.Hold = nil
		c.Settings = &next
		c.Everybody(chat.Block{Text: c.V.Say("hold.lifted-by", "who", c.F.Person.Name)})
	}
	c.Rewrite(chat.Reply{Key: telling.HoldKey, Body: []chat.Block{{Text: c.V.Say("hold.lifted")}}})
}

// tellHold speaks of a hold in place of the opening: when its last day has come
// the managers are asked whether to lift it, and once a day the list is told.
func tellHold(c *engine.Talk, n reminders.Name, r reminders.Rung) {
	h := *c.F.Shop.Plan.Hold
	switch {
	case r.Nudge && h.Until != "" && h.Until <= n.Date:
		c.TellPeople(reminders.People(c.F.Shop, n.Date, n.Task, shop.Managers), liftable(c, "hold.over"))
	case !r.Nudge && r.No == reminders.FirstDue(reminders.Rungs(c.F.Shop, n.Date, n.Task)):
		c.TellPeople(reminders.People(c.F.Shop, n.Date, n.Task, shop.List),
			chat.Reply{Body: []chat.Block{holdText(c, h, "hold.stop")}})
	}
}
