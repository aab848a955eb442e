package setup

import (
	"slices"
	"strconv"
	"strings"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// SetupFlow lays down a shop that was just claimed.
func SetupFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoSetup, Title: "setup", Version: 1, Start: startSetup,
		Safe: engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain,
		Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: setupStays,
		Rights: engine.May(access.Owning, engine.OwnPhone, engine.FromStart),
		Commands: []engine.Command{
			{Name: engine.DoSetup, Does: engine.StartsDialog, Help: engine.HelpNever, Takes: engine.AnyWords}},
		Screens: ask.TopicScreens(
			setupTopics(),
			ask.Booking{Read: readSetup, Book: bookSetup, Other: ask.Changes(engine.GoBack("change")),
				Plan: true, What: "what.setup-review"}.Screen(),
		)}
}

// setupTopics are asked in this order, the quick ones with everything to tap.
func setupTopics() []ask.Topic {
	return []ask.Topic{
		{Name: "me", Skip: named, Read: ask.ReadName},
		{Name: "shop-name", Read: ask.ReadName},
		countryTopic(), zoneTopic(), currencyTopic(),
		{Name: "machine-name", Read: ask.ReadName, Offer: sayOffers("machine-name.usual")},
		boxesTopic(), capacityTopic(), lowTopic(), bundleTopic(),
		{Name: "night", Offer: nightOffers, Show: showOffer(nightOffers)},
		limitTopic(), hoursTopic(),
		{Name: "credit-days", Offer: creditDays, Show: showOffer(creditDays), Read: readCreditDays},
		{Name: "credit-how", Offer: creditHow, Show: showOffer(creditHow)},
		creditCutTopic(), creditRollTopic(),
		{Name: "prints", Offer: printsOffers, Show: showOffer(printsOffers)},
		{Name: "lock", Offer: lockOffers, Show: showOffer(lockOffers)},
		{Name: "trial", Offer: yesNoOffers, Show: showOffer(yesNoOffers)},
		{Name: "two-persons", Offer: twoOffers, Show: showOffer(twoOffers)},
	}
}

// named: the speaker has a name already.
func named(c *engine.Talk) bool { return c.F.Person.Name != "" }

func startSetup(c *engine.Talk) {
	if !c.F.Shop.Fresh {
		c.Close(chat.Block{Text: c.V.Say("setup-done")})
		return
	}
	ask.GoOn(c, setupTopics())
}

func readSetup(c *engine.Talk) []chat.Block {
	return []chat.Block{{Text: c.V.Say("setup-review")}, ask.TopicTable(c, setupTopics())}
}

func bookSetup(c *engine.Talk) {
	s := laidDown(c, &shop.Machine{})
	for i := range s.People {
		if s.People[i].ID == c.F.Person.ID && c.Chosen("me") != "" {
			s.People[i].Name = c.Chosen("me")
		}
	}
	s.Fresh = false
	c.Settings = &s
	c.Close(engine.Text(c.V.Say("setup-saved", "place", s.Name), c.V.Say("setup-next")))
	c.Post(c.Menu(chat.Audience{}, c.F.Person.Role))
}

// laidDown gives the settings with what the draft says of the shop and of one
// machine. A machine of number 0 is new.
func laidDown(c *engine.Talk, was *shop.Machine) shop.Settings {
	s := c.F.Shop.Settings
	s.Name, s.Country = c.Chosen("shop-name"), c.Chosen("country")
	s.Zone, s.Currency = c.Chosen("zone"), c.Chosen("currency")
	s.Nightly, s.SafeOpen = c.Chosen("night") != "stay", c.Chosen("night") == "open"
	s.Limit = engine.AmountOf(c.Chosen("limit"))
	s.Hours = hoursOf(c.Chosen("hours"))
	s.CreditDays, _ = ask.Index(c.Chosen("credit-days"), maxCreditDays+1)
	s.CreditHow = c.Chosen("credit-how")
	s.CreditCut, s.CreditRoll = cutOf(c.Chosen("credit-cut")), c.Chosen("credit-roll") == "yes"
	s.Checked = s.Currency == "EUR" // Regulation (EC) 1338/2001, article 6; elsewhere nothing is known
	s.TwoPersons = c.Chosen("two-persons") == "yes"
	m := *was
	m.Name, m.Lock, m.Prints = c.Chosen("machine-name"), c.Chosen("lock"), c.Chosen("prints")
	m.TestDispense = c.Chosen("trial") == "yes"
	if m.LargestDispense == 0 {
		m.LargestDispense = usualDispense
	}
	m.Boxes = drawnBoxes(c, was)
	s.Bundles = drawnBundles(c, s.Bundles, m.Faces())
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
func drawnBoxes(c *engine.Talk, was *shop.Machine) []shop.Box {
	faces := facesOf(c.Chosen("boxes"))
	capacity, low := numbersOf(c.Chosen("capacity")), numbersOf(c.Chosen("low"))
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
func fresh(c *engine.Talk) {
	if !c.May(engine.DoSetup) {
		c.Say(c.V.Say("not-set-up"))
		return
	}
	c.Begin(engine.DoSetup)
}

// sayOffers offers sentences of the catalogue as they stand there.
func sayOffers(ids ...string) func(*engine.Talk) []ask.Offer {
	return func(c *engine.Talk) []ask.Offer {
		var list []ask.Offer
		for _, id := range ids {
			list = append(list, ask.Offer{Label: c.V.Say(id), Value: c.V.Say(id)})
		}
		return list
	}
}

// options offers named values; their labels stand in the catalogue under "option.".
func options(c *engine.Talk, topic string, values ...string) []ask.Offer {
	list := make([]ask.Offer, 0, len(values))
	for _, v := range values {
		list = append(list, ask.Offer{Label: c.V.Say("option." + topic + "." + v), Value: v})
	}
	return list
}

func nightOffers(c *engine.Talk) []ask.Offer { return options(c, "night", "locked", "open", "stay") }
func creditDays(c *engine.Talk) []ask.Offer  { return options(c, "credit-days", "1", "2", "3", "0") }
func creditHow(c *engine.Talk) []ask.Offer {
	return options(c, "credit-how", "each", "together", "unknown")
}
func printsOffers(c *engine.Talk) []ask.Offer {
	return options(c, "prints", "both", "notes", "money", "nothing")
}
func lockOffers(c *engine.Talk) []ask.Offer  { return options(c, "lock", "key", "dial", "electronic") }
func yesNoOffers(c *engine.Talk) []ask.Offer { return options(c, "trial", "yes", "no") }
func twoOffers(c *engine.Talk) []ask.Offer   { return options(c, "two-persons", "no", "yes") }

// showOffer writes a value as its button does.
func showOffer(offers func(*engine.Talk) []ask.Offer) func(*engine.Talk, string) string {
	return func(c *engine.Talk, value string) string {
		for _, o := range offers(c) {
			if o.Value == value {
				return o.Label
			}
		}
		return value
	}
}

// maxCreditDays bounds the working days until the bank credits.
const maxCreditDays = 30

func readCreditDays(c *engine.Talk, s string) (value, problem string) {
	n, ok := ask.Index(strings.TrimSpace(s), maxCreditDays+1)
	if !ok {
		return "", c.V.Say("credit-days-range", "max", maxCreditDays)
	}
	return strconv.Itoa(n), ""
}

func setupStays(c *engine.Talk) string {
	return c.V.Say(engine.Either(c.F.Several, "setup-stopped-several", "setup-stopped"))
}
