package setup

import (
	"fmt"
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// shopDraft is what was answered about a shop and one machine; nil is not yet.
type shopDraft struct {
	Me         *string          `json:"me,omitempty"` // what the speaker is called
	Shop       *string          `json:"shop,omitempty"`
	Country    *string          `json:"country,omitempty"`
	Region     *string          `json:"region,omitempty"`
	Zone       *string          `json:"zone,omitempty"`
	Currency   *string          `json:"currency,omitempty"`
	Machine    *string          `json:"machine,omitempty"`  // its name
	Boxes      *[]cashmath.Face `json:"boxes,omitempty"`    // from top to bottom
	Capacity   *[]int64         `json:"capacity,omitempty"` // by box
	Low        *[]int64         `json:"low,omitempty"`      // by box
	Bundle     *[]int64         `json:"bundle,omitempty"`   // by kind of note, highest first
	Night      *night           `json:"night,omitempty"`
	Limit      *decimal.Decimal `json:"limit,omitempty"`
	Hours      *[7]shop.Hours   `json:"hours,omitempty"`
	Likely     [7]shop.Hours    `json:"likely,omitzero"` // hours that are read in the likelier of two ways
	CreditDays *int             `json:"credit_days,omitempty"`
	CreditHow  *string          `json:"credit_how,omitempty"`
	BankLook   *string          `json:"bank_look,omitempty"`
	CreditCut  *int             `json:"credit_cut,omitempty"`
	CreditRoll *bool            `json:"credit_roll,omitempty"`
	Prints     *string          `json:"prints,omitempty"`
	Lock       *string          `json:"lock,omitempty"`
	Trial      *bool            `json:"trial,omitempty"`
	TwoPersons *bool            `json:"two_persons,omitempty"`
	OwnCorrect *bool            `json:"own_correct,omitempty"`
	NewMachine bool             `json:"new_machine,omitempty"` // it is about one that is not laid down yet
}

// night is how a shop leaves its machine overnight.
type night string

const (
	nightLocked night = "locked" // emptied, the safe locked
	nightOpen   night = "open"   // emptied, the safe open
	nightStay   night = "stay"   // notes stay in
)

func draft(c *engine.Talk) *shopDraft { return engine.Drafted[shopDraft](c) }

// said gives an answer; the zero value where there is none.
func said[T any](answer *T) (value T) {
	if answer != nil {
		value = *answer
	}
	return value
}

type topic[T any] = ask.Topic[shopDraft, T]

// topics are asked in this order, the quick ones with everything to tap.
func topics() ask.Topics[shopDraft] {
	return ask.Topics[shopDraft]{
		topic[string]{Name: "me", Named: true, In: func(d *shopDraft) **string { return &d.Me },
			Read: ask.ReadPerson, Show: ask.AsTyped, Skip: func(c *engine.Talk) bool { return c.F.Person.Name != "" }},
		topic[string]{Name: "shop-name", Named: true, In: func(d *shopDraft) **string { return &d.Shop },
			Read: ask.ReadPlace, Show: ask.AsTyped},
		countryTopic(), regionTopic(), zoneTopic(), currencyTopic(),
		topic[string]{Name: "machine-name", Named: true, In: func(d *shopDraft) **string { return &d.Machine },
			Read: ask.ReadPlace, Show: ask.AsTyped, Offer: func(c *engine.Talk) []ask.Offer[string] {
				return []ask.Offer[string]{{Label: c.V.Say("machine-name.usual"), Value: c.V.Say("machine-name.usual")}}
			}},
		boxesTopic(), capacityTopic(), lowTopic(), bundleTopic(),
		oneOf("night", func(d *shopDraft) **night { return &d.Night }, nightLocked, nightOpen, nightStay),
		limitTopic(), hoursTopic(), creditDaysTopic(),
		oneOf("credit-how", func(d *shopDraft) **string { return &d.CreditHow }, "each", "together", "unknown"),
		bankLookTopic(), creditCutTopic(), creditRollTopic(),
		oneOf("prints", func(d *shopDraft) **string { return &d.Prints }, "both", "notes", "money", "nothing"),
		oneOf("lock", func(d *shopDraft) **string { return &d.Lock }, "key", "dial", "electronic"),
		oneOf("trial", func(d *shopDraft) **bool { return &d.Trial }, true, false),
		oneOf("two-persons", func(d *shopDraft) **bool { return &d.TwoPersons }, false, true), correctsTopic(),
	}
}

// correctsTopic asks whether whoever closed a day may correct it alone. Where nobody
// else could it is not asked.
func correctsTopic() topic[bool] {
	t := oneOf("own-correct", func(d *shopDraft) **bool { return &d.OwnCorrect }, false, true)
	t.Skip = func(c *engine.Talk) bool { return len(access.Correctors(&c.F.Shop.Settings, 0)) < 2 }
	return t
}

// oneOf is a topic whose answers can be tapped; their labels stand in the
// catalogue under "option." and its name.
func oneOf[T comparable](name string, in func(*shopDraft) **T, values ...T) topic[T] {
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
	return topic[T]{Name: name, In: in, Show: show, Offer: func(c *engine.Talk) (list []ask.Offer[T]) {
		for _, v := range values {
			list = append(list, ask.Offer[T]{Label: show(c, v), Value: v})
		}
		return list
	}}
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
		Screens: topics().Screens(ask.Booking{Read: readSetup, Book: bookSetup,
			Other: ask.Changes(engine.GoBack("change")), Plan: true, What: "what.setup-review"}.Screen()),
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

func readSetup(c *engine.Talk) []chat.Block {
	return []chat.Block{{Text: c.V.Say("setup-review")}, topics().Table(c)}
}

func bookSetup(c *engine.Talk) {
	s := laidDown(c, &shop.Machine{})
	for i := range s.People {
		if s.People[i].ID == c.F.Person.ID && draft(c).Me != nil {
			s.People[i].Name = *draft(c).Me
		}
	}
	s.Fresh = false
	c.Settings = &s
	c.Close(chat.Lines(c.V.Say("setup-saved", "place", s.Name), c.V.Say("setup-next")))
	c.Post(c.Menu(chat.Audience{}, c.F.Person.Role))
}

// laidDown gives the settings with what the draft says of the shop and of one
// machine. A machine of number 0 is new.
func laidDown(c *engine.Talk, was *shop.Machine) shop.Settings {
	s, d := c.F.Shop.Settings, draft(c)
	s.Name, s.Country, s.Zone, s.Currency = said(d.Shop), said(d.Country), said(d.Zone), said(d.Currency)
	if s.Region, s.BankLook = said(d.Region), said(d.BankLook); s.BankLook == shop.LooksDaily {
		s.BankLook = "" // as in every shop that said nothing
	}
	s.Nightly, s.SafeOpen = said(d.Night) != nightStay, said(d.Night) == nightOpen
	s.Limit, s.Hours = said(d.Limit), said(d.Hours)
	s.CreditDays, s.CreditHow = said(d.CreditDays), said(d.CreditHow)
	s.CreditCut, s.CreditRoll = said(d.CreditCut), said(d.CreditRoll)
	s.Checked = s.Currency == "EUR" // Regulation (EC) 1338/2001, article 6; elsewhere nothing is known
	s.TwoPersons, s.OwnCorrect = said(d.TwoPersons), said(d.OwnCorrect)
	m := *was
	m.Name, m.Lock, m.Prints, m.TestDispense = said(d.Machine), said(d.Lock), said(d.Prints), said(d.Trial)
	if m.LargestDispense == 0 {
		m.LargestDispense = usualDispense
	}
	m.Boxes = drawnBoxes(d, was)
	s.Bundles = drawnBundles(d, s.Bundles, m.Faces())
	return s.WithMachine(m)
}

// usualDispense is the most notes in one payout until somebody says otherwise.
// Common practice, no source.
const usualDispense = 40

// fresh answers whoever speaks in a shop that is not set up yet.
func fresh(c *engine.Talk) {
	if !c.May(engine.DoSetup) {
		c.Say(c.V.Say("not-set-up"))
		return
	}
	c.Begin(engine.DoSetup)
}
