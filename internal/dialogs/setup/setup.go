package setup

import (
	"cmp"
	"fmt"
	"slices"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/founding"
	"shopfloat/internal/helping"
	"shopfloat/internal/lines"
	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// shopDraft is what was answered about a shop and one machine.
type shopDraft = founding.Answers

func draft(c *engine.Talk) *shopDraft { return engine.Drafted[shopDraft](c) }

// said gives an answer; the zero value where there is none.
func said[T any](answer *T) T { return founding.Said(answer) }

// told makes a reader of a dialog out of one that only needs the words.
func told[T any](read func(*telling.Teller, string) (T, string)) func(*engine.Talk, string) (T, string) {
	return func(c *engine.Talk, s string) (T, string) { return read(c.Teller, s) }
}

// reads and doubts make readers of a dialog out of those of its draft.
type (
	reads[T any]  func(*engine.Talk, string) (T, string)
	doubts[T any] func(*engine.Talk, T) string
)

func read[T any](of func(*shopDraft, *telling.Teller, string) (T, string)) reads[T] {
	return func(c *engine.Talk, s string) (T, string) { return of(draft(c), c.Teller, s) }
}

func doubt[T any](of func(*shopDraft, *telling.Teller, T) string) doubts[T] {
	return func(c *engine.Talk, v T) string { return of(draft(c), c.Teller, v) }
}

// shown makes what a dialog shows an answer by out of what only needs the words.
func shown[T any](show func(*telling.Teller, T) string) func(*engine.Talk, T) string {
	return func(c *engine.Talk, v T) string { return show(c.Teller, v) }
}

type topic[T any] = ask.Topic[shopDraft, T]

// topics are asked in this order, the quick ones with everything to tap.
func topics() ask.Topics[shopDraft] {
	return ask.Topics[shopDraft]{
		topic[string]{Name: "me", On: "shop", Named: true, In: func(d *shopDraft) **string { return &d.Me },
			Read: ask.ReadPerson, Show: ask.AsTyped,
			Skip: func(c *engine.Talk) bool { return c.F.Person.Name != "" }},
		topic[string]{Name: "shop-name", On: "shop", Named: true,
			In: func(d *shopDraft) **string { return &d.Shop }, Read: ask.ReadPlace, Show: ask.AsTyped},
		countryTopic(), regionTopic(), zoneTopic(), currencyTopic(),
		topic[string]{Name: "machine-name", On: "machine", Named: true,
			In: func(d *shopDraft) **string { return &d.Machine }, Read: ask.ReadMachine, Show: ask.AsTyped,
			Offer: func(c *engine.Talk) []ask.Offer[string] {
				usual := c.V.Say("machine-name.usual")
				return []ask.Offer[string]{{Label: usual, Value: usual}}
			}},
		boxesTopic(), capacityTopic(), lowTopic(), bundleTopic(),
		oneOf("night", "rules", func(d *shopDraft) **founding.Night { return &d.Night },
			founding.Locked, founding.Open, founding.Stay),
		limitTopic(), hoursTopic(), creditDaysTopic(),
		oneOf("credit-how", "bank", func(d *shopDraft) **string { return &d.CreditHow },
			"each", "together", "unknown"),
		bankLookTopic(), creditCutTopic(), creditRollTopic(), feeTopic(),
		oneOf("prints", "machine", func(d *shopDraft) **string { return &d.Prints },
			"both", "notes", "money", "nothing"),
		later(oneOf("slip-order", "slip", func(d *shopDraft) **string { return &d.SlipOrder },
			founding.AsBoxes, lines.HighFirst, lines.LowFirst)),
		later(oneOf("slip-cancels", "slip", func(d *shopDraft) **bool { return &d.Cancels }, false, true)),
		oneOf("lock", "rules", func(d *shopDraft) **string { return &d.Lock }, "key", "dial", "electronic"),
		oneOf("trial", "rules", func(d *shopDraft) **bool { return &d.Trial }, true, false), providerTopic(),
		oneOf("two-persons", "people", func(d *shopDraft) **bool { return &d.TwoPersons }, false, true),
		correctsTopic(),
	}
}

// correctsTopic asks whether whoever closed a day may correct it alone, unless nobody else could.
func correctsTopic() topic[bool] {
	t := oneOf("own-correct", "people", func(d *shopDraft) **bool { return &d.OwnCorrect }, false, true)
	t.Skip = func(c *engine.Talk) bool { return len(access.Correctors(&c.F.Shop.Settings, 0)) < 2 }
	return t
}

// providerTopic asks whom to ring when the machine is down, which may wait.
func providerTopic() topic[string] {
	return topic[string]{Name: "provider", On: "people", In: func(d *shopDraft) **string { return &d.Provider },
		Read: read((*shopDraft).ReadProvider),
		Show: func(c *engine.Talk, s string) string { return cmp.Or(s, c.V.Say("option.provider.later")) },
		Skip: func(c *engine.Talk) bool { return !c.F.Shop.Fresh },
		Offer: func(c *engine.Talk) []ask.Offer[string] {
			return []ask.Offer[string]{{Label: c.V.Say("option.provider.later")}}
		}}
}

// later is a topic that can be said once the shop is set up; until then its usual answer holds.
func later[T any](t topic[T]) topic[T] {
	t.Skip = func(c *engine.Talk) bool { return c.F.Shop.Fresh || draft(c).NewMachine }
	return t
}

// oneOf is a topic whose answers can be tapped; their labels stand in the
// catalogue under "option." and its name.
func oneOf[T comparable](name, page string, in func(*shopDraft) **T, values ...T) topic[T] {
	show := func(c *engine.Talk, v T) string {
		word := fmt.Sprint(v)
		if yes, ok := any(v).(bool); ok {
			word = texts.Either(yes, "yes", "no")
		}
		if slices.Contains(values, v) {
			return c.V.Say("option." + name + "." + word)
		}
		return word
	}
	offer := func(c *engine.Talk) (list []ask.Offer[T]) {
		for _, v := range values {
			list = append(list, ask.Offer[T]{Label: show(c, v), Value: v})
		}
		return list
	}
	return topic[T]{Name: name, On: page, In: in, Show: show, Said: true, Offer: offer}
}

// draftVoice speaks in the currency of the draft.
func draftVoice(c *engine.Talk) *texts.Voice {
	return c.All.In(c.F.Lang, said(draft(c).Country), said(draft(c).Currency))
}

// ShopFlow lays down a shop that was just claimed.
func ShopFlow() *engine.Flow {
	return &engine.Flow{
		Name: engine.DoSetup, Title: "setup", Version: 1, Draft: func() any { return &shopDraft{} },
		Start: startSetup,
		Safe:  engine.SafeShut, Presence: engine.OutOfWay, Company: engine.SideBySide, Tells: engine.TellsNothing,
		Again: engine.AnswersAgain, Paper: engine.OffPaper, Loses: engine.LosesChoices, Stopped: setupStays,
		Rights: engine.May(access.Owning, engine.OwnPhone, engine.FromStart),
		Commands: []engine.Command{
			{Name: engine.DoSetup, Does: engine.StartsDialog, Help: engine.HelpNever, Takes: engine.AnyWords}},
		Screens: topics().Screens(ask.Booking{First: readFirst, Read: readSetup, Book: bookSetup,
			Other: ask.Changes(engine.GoBack("change")), Plan: true, What: "what.setup-review",
			Taps: map[string]func(*engine.Talk){"right-next": nextPage}}.Screen()),
	}
}

func startSetup(c *engine.Talk) {
	if !c.F.Shop.Fresh {
		c.Close(chat.Block{Text: c.V.Say("setup-done")})
		return
	}
	topics().GoOn(c)
}

func setupStays(c *engine.Talk) string {
	return c.V.Say(texts.Either(c.F.Several, "setup-stopped-several", "setup-stopped"))
}

// readSetup reads the page back that is read.
func readSetup(c *engine.Talk) []chat.Block {
	page, _ := topics().Page(c)
	title := c.V.Say("page." + c.State.Draft.Read)
	return []chat.Block{{Text: c.V.Say("setup-review", "page", title)}, page}
}

// readFirst reads the pages back that come before the last.
func readFirst(c *engine.Talk) *engine.Card {
	if _, next := topics().Page(c); next == "" {
		return nil
	}
	return &engine.Card{Body: readSetup(c),
		Buttons: [][]chat.Button{c.Button("right-next", "right-next"), c.Button("change", "change")}}
}

func nextPage(c *engine.Talk) {
	if _, next := topics().Page(c); next != "" {
		c.State.Draft.Read = next
	}
}

func bookSetup(c *engine.Talk) {
	s := draft(c).Over(c.F.Shop.Settings, &shop.Machine{})
	for i := range s.People {
		if s.People[i].ID == c.F.Person.ID && draft(c).Me != nil {
			s.People[i].Name = *draft(c).Me
		}
	}
	s.Fresh = false
	c.Settings, c.State.Lessons = &s, helping.Lessons()
	told := founding.FirstDay(c.Teller, draftVoice(c), s)
	c.Close(chat.Lines(c.V.Say("setup-saved", "place", s.Name)))
	c.Post(c.Menu(chat.Audience{}, c.F.Person.Role))
	c.Replies = append(c.Replies, told...)
}

// fresh answers whoever speaks in a shop that is not set up yet.
func fresh(c *engine.Talk) {
	if !c.May(engine.DoSetup) {
		c.Say(c.V.Say("not-set-up"))
		return
	}
	c.Begin(engine.DoSetup)
}
