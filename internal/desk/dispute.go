package desk

import (
	"errors"
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/trust"
)

// replace lets a phone come in the place of those that a person had. Those may
// object, but not against the computer: that is how an owner who was cut off comes
// back, and it ends what was open between phones.
func (b *batch) replace(f *chat.Facts, by chat.Chat) error {
	id, p := f.Shop.ID, f.Person
	if err := b.cutOff(id, p.ID); err != nil {
		return err
	}
	b.cut = slices.DeleteFunc(b.cut, func(c chat.Chat) bool { return c == by })
	if f.Link.By != 0 {
		return b.tx.Replace(id, p.ID)
	}
	if err := b.tx.Leave(id, p.ID); err != nil || !p.Disputed {
		return err
	}
	return b.disputed(f, false)
}

// mayObject finds the account of a phone in whose place another came, when the
// button under the message that said so is tapped there.
func (b *batch) mayObject(in chat.Input) (a store.Account, may bool) {
	if in.Kind != chat.Press {
		return a, false
	}
	who, machine, ok := trust.Objection(in.Tap)
	if !ok {
		return a, false
	}
	_, id, err := b.tx.Machine(machine)
	if err != nil {
		return a, false
	}
	a, err = b.tx.AccountIn(in.Chat, id)
	return a, err == nil && a.Former && a.Person == who
}

// object takes the word of a phone that another came in its place and should not
// have: both speak for the person then, for nothing but counting, until an owner
// decides.
func (b *batch) object(cause int64, in chat.Input, a store.Account) error {
	sh, err := b.tx.Shop(a.Shop)
	if err != nil {
		return err
	}
	p, here := sh.Person(a.Person)
	if !here {
		return nil // works there no longer
	}
	f := chat.Facts{Shop: sh, Person: p}
	if f.Lang, err = b.tx.Lang(in.Chat); err != nil {
		return err
	}
	b.tx.ActAs(p.ID)
	defer b.tx.ActAs(0)
	err = errors.Join(b.tx.Object(in.Chat, a.Shop), b.tx.RevokeCodes(a.Shop, p.ID))
	if err == nil {
		err = b.disputed(&f, true)
	}
	if err != nil {
		return err
	}
	return b.enqueue(cause, in.Chat, f, b.desk.event(chat.Event{Kind: chat.Objected, Person: p.ID}, f))
}

// disputed lays down whether it is open which phone is the speaker's.
func (b *batch) disputed(f *chat.Facts, open bool) error {
	s := f.Shop.Settings
	s.People = slices.Clone(s.People)
	for i := range s.People {
		if s.People[i].ID == f.Person.ID {
			s.People[i].Disputed = open
			f.Person.Disputed = open
		}
	}
	s.By = f.Person.ID
	err := b.tx.SaveSettings(f.Shop.ID, s)
	if err == nil {
		f.Shop, err = b.tx.Shop(f.Shop.ID)
	}
	return err
}

// decide leaves a person one of their phones, as an owner said who is not that person.
func (b *batch) decide(f chat.Facts, d chat.Decision) error {
	p, here := f.Shop.Person(d.Person)
	if !here || p.Disputed || f.Person.Role != shop.Owner || f.Person.ID == p.ID {
		return errors.New("nobody who may decides about a phone")
	}
	if err := b.cutOff(f.Shop.ID, p.ID); err != nil {
		return err
	}
	if err := b.tx.Decide(f.Shop.ID, p.ID, d.Old); err != nil {
		return err
	}
	left, err := b.tx.Phones(f.Shop.ID)
	b.cut = slices.DeleteFunc(b.cut, func(c chat.Chat) bool {
		return slices.ContainsFunc(left, func(a store.Account) bool { return a.Chat == c })
	})
	return err
}
