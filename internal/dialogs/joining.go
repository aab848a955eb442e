package dialogs

import (
	"slices"

	"github.com/shopspring/decimal"

	"shopfloat/internal/access"
	"shopfloat/internal/shop"
)

// opened answers somebody who opened a link that was made here.
func (e *Engine) opened(st State, in Input, f Facts) Result {
	l := f.Link
	if l.State == LinkGood && l.Shop != nil && !l.stands() {
		l.State = LinkExpired
	}
	country, currency := "", ""
	if l.Shop != nil {
		country, currency = l.Shop.Country, l.Shop.Currency
	}
	v := e.texts.In(f.Lang, country, currency)
	switch {
	case l.State == LinkUsed || l.State == LinkExpired:
		return Result{State: st, Replies: []Reply{{Body: []Block{{Text: v.Say("link-" + string(l.State))}}}}}
	case l.Member && l.Person == 0:
		return Result{
			State:   st,
			Replies: []Reply{{Body: []Block{{Text: v.Say("link-member", "place", l.Shop.Name)}}}},
		}
	case l.Shop == nil:
		return e.found(st, in, f)
	}
	return e.join(st, in, f)
}

// stands reports whether whoever gave the link out may still do so.
func (l *Link) stands() bool {
	if l.By == 0 {
		return true
	}
	by, ok := l.Shop.Person(l.By)
	return ok && access.MayManage(by.Acts(), l.Role)
}

// account tells the inviter what the person's chat program calls them.
func (c *talk) account(name string) string {
	if name == "" {
		return c.v.Say("told.joined-check")
	}
	return c.v.Say("told.joined-account", "account", name)
}

// freshSettings are those of a shop before anything is known of it.
func freshSettings(owner shop.Person) shop.Settings {
	return shop.Settings{
		Zone:     "UTC",
		Currency: "EUR",
		Limit:    decimal.Zero,
		Fresh:    true,
		People:   []shop.Person{owner},
	}
}

// found makes the speaker the owner of a shop that does not exist yet, and
// begins to set it up.
func (e *Engine) found(st State, in Input, f Facts) Result {
	owner := shop.Person{Role: shop.Owner}
	c, err := e.newShop(st, in, f, owner)
	if err != nil {
		return Result{State: st}
	}
	c.Accept = true
	c.first(c.v.Say("claimed"))
	c.begin(doSetup)
	return c.done()
}

// newShop gives a step's working set in a shop that is only being founded.
func (e *Engine) newShop(st State, in Input, f Facts, owner shop.Person) (*talk, error) {
	s := freshSettings(owner)
	sh, err := shop.New(0, 0, s)
	if err != nil {
		return nil, err
	}
	f.Shop, f.Person, f.Machine, f.Several = sh, owner, nil, false
	c := e.talk(State{V: StateFormat, Rev: st.Rev + 1}, in, f)
	c.Settings = &s
	return c, nil
}

// join lets somebody into a shop: somebody new, or a person with another phone.
func (e *Engine) join(st State, in Input, f Facts) Result {
	l := f.Link
	person := shop.Person{ID: l.Person, Name: l.Name, Role: l.Role}
	if l.Person != 0 {
		person, _ = l.Shop.Person(l.Person)
	}
	f.Shop, f.Person, f.Machine = l.Shop, person, nil
	c := e.talk(State{V: StateFormat, Rev: st.Rev + 1}, in, f)
	c.Accept = true
	if l.Person == 0 {
		s := l.Shop.Settings
		s.People = append(slices.Clone(s.People), person)
		c.Settings = &s
	}
	role := c.v.Say("role." + string(person.Role))
	c.say(c.v.Say("joined", "who", person.Name, "place", l.Shop.Name, "role", role))
	c.post(c.menu(Audience{}, person.Acts()))
	if l.By != 0 {
		c.tellPerson(l.By, Reply{Silent: true,
			Body: []Block{text(c.v.Say("told.joined", "who", person.Name, "role", role), c.account(in.From))}})
	}
	return c.done()
}

// peopleMoments are links that are opened.
func peopleMoments() moments { return moments{opened: (*Engine).opened} }
