package dialogs

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/advice"
	"shopfloat/internal/shop"
)

// askFull asks how full the machine should be.
func askFull(c *talk) *card {
	return &card{body: []Block{text(c.v.Say("full", "level", c.levelName(c.f.Shop.Load)), c.v.Say("full.how"))}}
}

func levelOptions(c *talk) []option {
	l := c.f.Shop.Load
	return append(labelled("full-", shop.RarelyEmpty, shop.Balanced, shop.LittleCash)(c),
		option{label: c.v.Say(either(l.Whole, "button.full-single", "button.full-bundles")), value: "bundles"},
		option{label: c.v.Say(either(l.Always, "button.full-hours", "button.full-always")), value: "always"})
}

// levelName names the level in force; an empty one is balanced.
func (c *talk) levelName(l shop.Load) string {
	if l.Level == "" {
		l.Level = shop.Balanced
	}
	p, err := advice.Share(l)
	if err != nil {
		return string(l.Level) // settings are checked before they are in force
	}
	return c.v.Say("full.is-"+string(l.Level), "share", share(p))
}

// costBooking reads back two costs that were typed in place of a level.
var costBooking = booking{read: readCosts, book: bookCosts, plan: true,
	other: instead{"back", "back", backFromFull}}

func readCosts(c *talk) []Block {
	l, _, ok := costs(c.chosen("costs"))
	p, err := advice.Share(l)
	switch {
	case !ok:
		return nil
	case err != nil:
		return c.noAdvice(err).body
	}
	return []Block{text(c.v.Say("full.costs", "missed", c.v.Money(l.Missed), "idle", c.v.Money(l.Idle),
		"share", share(p)))}
}

// answerFull reads two costs a note: of one that is missed, of one left over.
func answerFull(c *talk, s string) bool {
	if _, text, ok := costs(s); ok && c.f.Person.Role.Manages() {
		c.choose("costs", text)
		return true
	}
	return false
}

// costs finds two amounts above nothing in a text: costs 1.20 0.10.
func costs(s string) (l shop.Load, text string, ok bool) {
	var found []decimal.Decimal
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ';' || r == '/' }) {
		word = strings.ReplaceAll(strings.Trim(word, "€$£,"), ",", ".")
		if d, err := decimal.NewFromString(word); err == nil && len(word) <= maxCost {
			found = append(found, d)
		}
	}
	if len(found) != 2 || !found[0].IsPositive() || !found[1].IsPositive() {
		return l, "", false
	}
	l = shop.Load{Level: shop.ByCosts, Missed: found[0], Idle: found[1]}
	return l, l.Missed.String() + " " + l.Idle.String(), true
}

// maxCost is how many signs a cost may have.
const maxCost = 9

// takeFull lays down what was chosen.
func takeFull(c *talk, choice string) {
	l := c.f.Shop.Load
	now := ""
	switch choice {
	case "bundles":
		l.Whole = !l.Whole
		now = c.v.Say(either(l.Whole, "full.bundles", "full.single"))
	case "always":
		l.Always = !l.Always
		now = c.v.Say(either(l.Always, "full.always", "full.hours"))
	default:
		l.Level, l.Missed, l.Idle = shop.LoadLevel(choice), decimal.Decimal{}, decimal.Decimal{}
		now = c.levelName(l)
	}
	c.layDownLoad(l, now)
}

// backFromFull leaves costs that were typed and not confirmed behind.
func backFromFull(c *talk) {
	if c.chosen("costs") == "" {
		c.goTo("advice")
	}
	c.forget("costs")
}

// losesCosts: costs were typed and are not confirmed yet. All else that is typed
// is answered at once.
func losesCosts(c *talk) bool { return c.chosen("costs") != "" }

func bookCosts(c *talk) {
	l, _, ok := costs(c.chosen("costs"))
	if !ok {
		return
	}
	l.Whole, l.Always = c.f.Shop.Load.Whole, c.f.Shop.Load.Always
	c.layDownLoad(l, c.levelName(l))
}

// layDownLoad writes how full to load into the shop's settings and goes back to
// the advice, which follows it from now on.
func (c *talk) layDownLoad(l shop.Load, what string) {
	c.forget("costs")
	c.goTo("advice")
	if !c.f.Person.Role.Manages() {
		return
	}
	s := c.f.Shop.Settings
	s.Load = l
	c.Settings = &s
	now := *c.f.Shop
	now.Settings = s
	c.f.Shop = &now
	c.first(c.v.Say("full.saved", "what", what))
	c.tellSettings(c.v.Say("label.load"))
}
