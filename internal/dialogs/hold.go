package dialogs

import (
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
)

func holdFlow() *flow {
	return &flow{
		name: doHold, title: "hold", version: 1, start: startHold,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesChoices, stopped: nothingBooked,
		rights: rights{access.Counting, anyPhone, onceSetUp},
		commands: []command{
			{name: doHold, does: startsDialog, help: helpMore, takes: anyWords},
			{name: doLift, does: tellsOnly, help: helpNever, takes: anyWords, run: (*talk).lift,
				rights: rights{role: access.Managing}},
		},
		cards:   []standing{{name: doLift, rights: rights{role: access.Managing}, tap: (*talk).tapLift}},
		screens: map[string]screen{"ask": booking{read: readHold, book: bookHold, plan: true, what: "what.hold"}.screen()},
	}
}

// whyMax bounds, in bytes, the reason kept with a hold.
const whyMax = 120

// startHold reads "until friday, police warning"; both parts may be missing.
func startHold(c *talk) {
	if !c.f.Person.Role.Manages() {
		c.close(Block{Text: c.v.Say("hold.manager")})
		return
	}
	words := strings.Fields(c.rest)
	why := c.rest
	if len(words) > 0 && c.isWord("until", strings.Trim(words[0], ",")) {
		_, until, rest := c.days(c.rest)
		c.choose("until", string(until))
		why = rest
	}
	why = strings.Trim(why, " ,.;:")
	if len(why) > whyMax {
		c.close(Block{Text: c.v.Say("hold.long")})
		return
	}
	c.choose("why", why)
	c.goTo("ask")
}

func readHold(c *talk) []Block {
	return []Block{text(append(c.holdLines(c.heldFor()), c.v.Say("hold.lasts"))...)}
}

// heldFor is the hold that waits for a yes.
func (c *talk) heldFor() shop.Hold {
	return shop.Hold{Until: shop.Date(c.chosen("until")), Why: c.chosen("why"), By: c.f.Person.ID}
}

// holdLines say what a hold is about.
func (c *talk) holdLines(h shop.Hold) []string {
	lines := []string{c.v.Say("hold.head")}
	if h.Until != "" {
		lines[0] = c.v.Say("hold.until", "day", c.v.Day(h.Until.Time()))
	}
	if h.Why != "" {
		lines = append(lines, c.v.Say("hold.why", "why", h.Why))
	}
	return append(lines, c.v.Say("hold.by", "who", c.name(h.By)))
}

func bookHold(c *talk) {
	if !c.f.Person.Role.Manages() {
		c.close(Block{Text: c.v.Say("hold.manager")})
		return
	}
	h := c.heldFor()
	h.At = c.in.At.UTC()
	next := c.f.Shop.Settings
	next.Plan.Hold = &h
	c.Settings = &next
	c.close(text(c.v.Say("hold.set", "when", c.clock(c.in.At)), c.v.Say("hold.lift-how")))
	c.everybody(text(c.holdLines(h)...))
}

// lift ends the hold, for a manager.
func (c *talk) lift() {
	switch {
	case c.f.Shop.Plan.Hold == nil:
		c.say(c.v.Say("hold.none"))
	case !c.f.Person.Role.Manages():
		c.say(c.v.Say("hold.manager"))
	default:
		c.send(Reply{Body: []Block{text(append(c.holdLines(*c.f.Shop.Plan.Hold), c.v.Say("hold.lift-ask"))...)},
			Buttons: c.liftButton(), Key: holdKey, Retire: holdKey})
	}
}

func (c *talk) liftButton() [][]Button { return [][]Button{c.button("lift", "o:lift:hold")} }

// holdKey names the card from which a hold is lifted.
const holdKey = "hold"

// tapLift lifts the hold.
func (c *talk) tapLift(_ string) {
	h := c.f.Shop.Plan.Hold
	if !c.manages() {
		return
	}
	if h != nil {
		next := c.f.Shop.Settings
		next.Plan.Hold = nil
		c.Settings = &next
		c.everybody(Block{Text: c.v.Say("hold.lifted-by", "who", c.f.Person.Name)})
	}
	c.rewrite(Reply{Key: holdKey, Body: []Block{{Text: c.v.Say("hold.lifted")}}})
}

// held ends an opening while the machine must not be loaded, and says why. What
// happened before the hold can still be entered.
func (c *talk) held() bool {
	h := c.f.Shop.Plan.Hold
	if h == nil || c.when().Before(h.At) {
		return false
	}
	old := c.key()
	c.end()
	c.inPlace(old, Reply{Body: []Block{text(append(c.holdLines(*h), c.v.Say("hold.stop"))...)}, Key: c.key()})
	if c.f.Person.Role.Manages() {
		c.send(Reply{Body: []Block{{Text: c.v.Say("hold.lift-ask")}}, Buttons: c.liftButton(), Key: holdKey})
	}
	return true
}

// tellHold speaks of a hold in place of the opening: when its last day has come
// the managers are asked whether to lift it, and once a day the list is told.
func (c *talk) tellHold(n reminders.Name, r reminders.Rung) {
	h := *c.f.Shop.Plan.Hold
	rungs := reminders.Rungs(c.f.Shop, n.Date, n.Task)
	switch {
	case r.Nudge && h.Until != "" && h.Until <= n.Date:
		c.tellPeople(reminders.People(c.f.Shop, n.Date, n.Task, shop.Managers), Reply{
			Body:    []Block{text(append(c.holdLines(h), c.v.Say("hold.over"))...)},
			Buttons: c.liftButton(), Key: holdKey, Retire: holdKey})
	case !r.Nudge && r.No == firstDue(rungs):
		c.tellPeople(reminders.People(c.f.Shop, n.Date, n.Task, shop.List),
			Reply{Body: []Block{text(append(c.holdLines(h), c.v.Say("hold.stop"))...)}})
	}
}

// firstDue is the number of the first rung that is no nudge.
func firstDue(rungs []reminders.Rung) int {
	for _, r := range rungs {
		if !r.Nudge {
			return r.No
		}
	}
	return 0
}
