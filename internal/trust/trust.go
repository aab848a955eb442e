// Package trust words what people are told when something was done with their
// name, or when something meant for them did not arrive.
package trust

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// Teller words events in the languages of a catalogue.
type Teller struct{ Texts *texts.Catalogue }

// Event gives what people are told of an event; facts are those after it.
func (t Teller) Event(e chat.Event, f chat.Facts) []chat.Reply {
	w := words{Voice: t.Texts.In(f.Lang, f.Shop.Country, f.Shop.Currency), e: e, f: f}
	w.person, _ = f.Shop.Known(e.Person)
	if e.Name != "" {
		w.person.Name = e.Name
	}
	switch e.Kind {
	case chat.NotDelivered, chat.NotDeleted:
		return []chat.Reply{w.plain(chat.Audience{}, "event."+string(e.Kind))}
	case chat.CannotReach:
		return []chat.Reply{w.plain(chat.Audience{Managers: true}, "event.gone")}
	case chat.PhotoLost:
		return w.photo()
	case chat.Locked:
		return []chat.Reply{w.plain(chat.Audience{Person: e.Person, Own: true}, "event.locked"),
			w.plain(chat.Audience{Managers: true, Not: e.Person}, "event.locked-other")}
	case chat.Objected:
		return w.objected()
	case chat.Decided:
		return w.decided()
	case chat.SignedAs:
		r := w.plain(chat.Audience{Person: e.Person, Own: true}, "event.signed")
		r.Silent = true
		return []chat.Reply{r}
	}
	return w.power()
}

// words are one event's.
type words struct {
	*texts.Voice
	e      chat.Event
	f      chat.Facts
	person shop.Person
}

// power tells the person by all the phones that are or were theirs, and all owners.
func (w words) power() (list []chat.Reply) {
	kind := string(w.e.Kind)
	if w.e.What == "on" || w.e.What == "off" {
		kind += "-" + w.e.What
	}
	for _, phone := range w.e.Phones {
		list = append(list, w.old(phone, kind))
	}
	by := w.f.Person.ID
	if len(w.e.Phones) == 0 && w.e.Kind != chat.Erased && w.e.Person != by {
		list = append(list, w.plain(chat.Audience{Person: w.e.Person}, "event."+kind))
	}
	if w.e.Person != by || w.e.Kind == chat.PhoneNew {
		list = append(list, w.plain(chat.Audience{Owners: true, Not: w.e.Person}, "event."+kind+"-other"))
	}
	return list
}

// photo asks whoever sent a photo to send it again; managers, if nobody said who they were.
func (w words) photo() []chat.Reply {
	to := chat.Audience{Person: w.e.Person}
	if w.e.Person == 0 {
		to = chat.Audience{Managers: true}
	}
	return []chat.Reply{w.plain(to, "event.photo")}
}

func (w words) plain(to chat.Audience, id string) chat.Reply {
	role := ""
	if w.e.Kind == chat.RoleSet {
		role = w.Say("role." + w.e.What)
	}
	what := ""
	if w.e.Kind == chat.SignedAs {
		what = w.Say("kind." + w.e.What)
	}
	text := w.Say(id, "who", w.person.Name, "role", role, "what", what,
		"by", w.f.Person.Name, "place", w.f.Shop.Name)
	return chat.Reply{To: to, Event: true, Body: []chat.Block{{Text: text}}}
}
