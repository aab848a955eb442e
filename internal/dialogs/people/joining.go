package people

import (
	"slices"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// opened answers somebody who opened a link that was made here.
func opened(e *engine.Engine, st chat.State, in chat.Input, f chat.Facts) chat.Result {
	l := f.Link
	if l.State == chat.LinkGood && l.Shop != nil && !stands(l) {
		l.State = chat.LinkExpired
	}
	country, currency := "", ""
	if l.Shop != nil {
		country, currency = l.Shop.Country, l.Shop.Currency
	}
	v := e.Texts.In(f.Lang, country, currency)
	switch {
	case l.State == chat.LinkUsed || l.State == chat.LinkExpired:
		return chat.Result{State: st,
			Replies: []chat.Reply{{Body: []chat.Block{{Text: v.Say("link-" + string(l.State))}}}}}
	case l.Member && l.Person == 0:
		return chat.Result{State: st,
			Replies: []chat.Reply{{Body: []chat.Block{{Text: v.Say("link-member", "place", l.Shop.Name)}}}}}
	case l.Shop == nil:
		return found(e, st, in, f)
	}
	return join(e, st, in, f)
}

// stands reports whether whoever gave the link out may still do so.
func stands(l *chat.Link) bool {
	if l.By == 0 {
		return true
	}
	by, ok := l.Shop.Person(l.By)
	return ok && access.MayManage(by.Acts(), l.Role)
}

// account tells the inviter what the person's chat program calls them.
func account(c *engine.Talk, name string) string {
	if name == "" {
		return c.V.Say("told.joined-check")
	}
	return c.V.Say("told.joined-account", "account", name)
}

// found makes the speaker the owner of a shop that does not exist yet, and
// begins to set it up.
func found(e *engine.Engine, st chat.State, in chat.Input, f chat.Facts) chat.Result {
	owner := shop.Person{Role: shop.Owner}
	c, err := e.NewShop(st, in, f, owner)
	if err != nil {
		return chat.Result{State: st}
	}
	c.Accept = true
	c.First(c.V.Say("claimed"))
	c.Begin(engine.DoSetup)
	return c.Done()
}

// join lets somebody into a shop: somebody new, or a person with another phone.
func join(e *engine.Engine, st chat.State, in chat.Input, f chat.Facts) chat.Result {
	l := f.Link
	person := shop.Person{ID: l.Person, Name: l.Name, Role: l.Role}
	if l.Person != 0 {
		person, _ = l.Shop.Person(l.Person)
	}
	f.Shop, f.Person, f.Machine = l.Shop, person, nil
	c := e.Talk(chat.State{V: chat.StateFormat, Rev: st.Rev + 1}, in, f)
	c.Accept = true
	if l.Person == 0 {
		s := l.Shop.Settings
		s.People = append(slices.Clone(s.People), person)
		c.Settings = &s
	}
	role := c.V.Say("role." + string(person.Role))
	c.Say(c.V.Say("joined", "who", person.Name, "place", l.Shop.Name, "role", role))
	c.Post(c.Menu(chat.Audience{}, person.Acts()))
	if l.By != 0 {
		c.TellPerson(l.By, chat.Reply{Silent: true,
			Body: []chat.Block{
				engine.Text(c.V.Say("told.joined", "who", person.Name, "role", role), account(c, in.From))}})
	}
	return c.Done()
}

// PeopleMoments are links that are opened.
func PeopleMoments() engine.Moments { return engine.Moments{Opened: opened} }
