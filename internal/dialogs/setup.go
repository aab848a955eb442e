package dialogs

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// setupFlow lays down a shop that was just claimed.
func setupFlow() *flow {
	return &flow{
		name: doSetup, title: "setup", version: 1, start: startSetup,
		safe: safeShut, presence: outOfWay, company: sideBySide, tells: tellsNothing, again: answersAgain,
		paper: offPaper, loses: losesChoices, stopped: setupStays,
		rights:   rights{access.Owning, ownPhone, fromStart},
		commands: []command{{name: doSetup, does: startsDialog, help: helpNever, takes: anyWords}},
		screens: topicScreens(setupTopics(), booking{read: readSetup, book: bookSetup, other: changes(goBack("change")),
			plan: true, what: "what.setup-review"}.screen())}
}

// setupTopics are asked in this order, the quick ones with everything to tap.
func setupTopics() []topic {
	return []topic{
		{name: "me", skip: (*talk).named, read: readName},
		{name: "shop-name", read: readName},
		countryTopic(), zoneTopic(), currencyTopic(),
		{name: "machine-name", read: readName, offer: sayOffers("machine-name.usual")},
		boxesTopic(), capacityTopic(), lowTopic(), bundleTopic(),
		{name: "night", offer: nightOffers, show: showOffer(nightOffers)},
		limitTopic(), hoursTopic(),
		{name: "credit-days", offer: creditDays, show: showOffer(creditDays), read: readCreditDays},
		{name: "credit-how", offer: creditHow, show: showOffer(creditHow)},
		creditCutTopic(), creditRollTopic(),
		{name: "prints", offer: printsOffers, show: showOffer(printsOffers)},
		{name: "lock", offer: lockOffers, show: showOffer(lockOffers)},
		{name: "trial", offer: yesNoOffers, show: showOffer(yesNoOffers)},
		{name: "two-persons", offer: twoOffers, show: showOffer(twoOffers)},
	}
}

// named: the speaker has a name already.
func (c *talk) named() bool { return c.f.Person.Name != "" }

func startSetup(c *talk) {
	if !c.f.Shop.Fresh {
		c.close(Block{Text: c.v.Say("setup-done")})
		return
	}
	goOn(c, setupTopics())
}

func readSetup(c *talk) []Block {
	return []Block{{Text: c.v.Say("setup-review")}, topicTable(c, setupTopics())}
}

func bookSetup(c *talk) {
	s := c.laidDown(&shop.Machine{})
	for i := range s.People {
		if s.People[i].ID == c.f.Person.ID && c.chosen("me") != "" {
			s.People[i].Name = c.chosen("me")
		}
	}
	s.Fresh = false
	c.Settings = &s
	c.close(text(c.v.Say("setup-saved", "place", s.Name), c.v.Say("setup-next")))
	c.post(c.menu(Audience{}, c.f.Person.Role))
}

// laidDown gives the settings with what the draft says of the shop and of one
// machine. A machine of number 0 is new.
func (c *talk) laidDown(was *shop.Machine) shop.Settings {
	s := c.f.Shop.Settings
	s.Name, s.Country = c.chosen("shop-name"), c.chosen("country")
	s.Zone, s.Currency = c.chosen("zone"), c.chosen("currency")
	s.Nightly, s.SafeOpen = c.chosen("night") != "stay", c.chosen("night") == "open"
	s.Limit = amountOf(c.chosen("limit"))
	s.Hours = hoursOf(c.chosen("hours"))
	s.CreditDays, _ = index(c.chosen("credit-days"), maxCreditDays+1)
	s.CreditHow = c.chosen("credit-how")
	s.CreditCut, s.CreditRoll = cutOf(c.chosen("credit-cut")), c.chosen("credit-roll") == "yes"
	s.Checked = s.Currency == "EUR" // Regulation (EC) 1338/2001, article 6; elsewhere nothing is known
	s.TwoPersons = c.chosen("two-persons") == "yes"
	m := *was
	m.Name, m.Lock, m.Prints = c.chosen("machine-name"), c.chosen("lock"), c.chosen("prints")
	m.TestDispense = c.chosen("trial") == "yes"
	if m.LargestDispense == 0 {
		m.LargestDispense = usualDispense
	}
	m.Boxes = c.drawnBoxes(was)
	s.Bundles = c.drawnBundles(s.Bundles, m.Faces())
	s.Machines = slices.Clone(s.Machines)
	if i := slices.IndexFunc(s.Machines, func(x shop.Machine) bool { return x.ID == m.ID }); i >= 0 &&
		m.ID != 0 {
		s.Machines[i] = m
	} else {
		s.Machines = append(s.Machines, m)
	}
	return s
}

// usualDispense is the most notes in one payout until somebody says otherwise.
// Common practice, no source.
const usualDispense = 40

// drawnBoxes are the note boxes of the draft; what a box that stays as it is
// usually holds is kept.
func (c *talk) drawnBoxes(was *shop.Machine) []shop.Box {
	faces := facesOf(c.chosen("boxes"))
	capacity, low := numbersOf(c.chosen("capacity")), numbersOf(c.chosen("low"))
	boxes := make([]shop.Box, len(faces))
	for i, f := range faces {
		boxes[i] = shop.Box{Position: i + 1, Face: f, Capacity: at64(capacity, i), Low: at64(low, i)}
		if i < len(was.Boxes) && was.Boxes[i].Face == f {
			boxes[i].Usual = was.Boxes[i].Usual
		}
	}
	return boxes
}

// fresh answers whoever speaks in a shop that is not set up yet.
func (c *talk) fresh() {
	if !c.may(doSetup) {
		c.say(c.v.Say("not-set-up"))
		return
	}
	c.begin(doSetup)
}

// sayOffers offers sentences of the catalogue as they stand there.
func sayOffers(ids ...string) func(*talk) []offer {
	return func(c *talk) []offer {
		var list []offer
		for _, id := range ids {
			list = append(list, offer{c.v.Say(id), c.v.Say(id)})
		}
		return list
	}
}

// options offers named values; their labels stand in the catalogue under "option.".
func (c *talk) options(topic string, values ...string) []offer {
	list := make([]offer, 0, len(values))
	for _, v := range values {
		list = append(list, offer{c.v.Say("option." + topic + "." + v), v})
	}
	return list
}

func nightOffers(c *talk) []offer  { return c.options("night", "locked", "open", "stay") }
func creditDays(c *talk) []offer   { return c.options("credit-days", "1", "2", "3", "0") }
func creditHow(c *talk) []offer    { return c.options("credit-how", "each", "together", "unknown") }
func printsOffers(c *talk) []offer { return c.options("prints", "both", "notes", "money", "nothing") }
func lockOffers(c *talk) []offer   { return c.options("lock", "key", "dial", "electronic") }
func yesNoOffers(c *talk) []offer  { return c.options("trial", "yes", "no") }
func twoOffers(c *talk) []offer    { return c.options("two-persons", "no", "yes") }

// showOffer writes a value as its button does.
func showOffer(offers func(*talk) []offer) func(*talk, string) string {
	return func(c *talk, value string) string {
		for _, o := range offers(c) {
			if o.value == value {
				return o.label
			}
		}
		return value
	}
}

// maxCreditDays bounds the working days until the bank credits.
const maxCreditDays = 30

func readCreditDays(c *talk, s string) (value, problem string) {
	n, ok := index(strings.TrimSpace(s), maxCreditDays+1)
	if !ok {
		return "", c.v.Say("credit-days-range", "max", maxCreditDays)
	}
	return strconv.Itoa(n), ""
}
