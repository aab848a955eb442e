package trust

import (
	"strconv"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// objects is the button with which a phone says that another should not have come
// in its place. It is tapped by a chat that belongs to the shop no longer, so no
// dialog has it.
const objects = "object"

// decides is the card on which an owner says which phone is a person's.
const decides = "decide"

// Objection reads the payload of that button: whose phone, and by which machine its
// shop is found.
func Objection(tap string) (who shop.PersonID, machine shop.MachineID, ok bool) {
	t, ok := chat.ParseTap(tap)
	if !ok || t.Dialog || t.Choice != objects || t.Machine == 0 {
		return 0, 0, false
	}
	n, err := strconv.ParseInt(t.Arg, 10, 64)
	return shop.PersonID(n), t.Machine, err == nil && strconv.FormatInt(n, 10) == t.Arg
}

// Decision reads what an owner tapped: whose phone, and whether it is the old one.
func Decision(arg string) (who shop.PersonID, old, ok bool) {
	id, way, _ := strings.Cut(arg, ".")
	n, err := strconv.ParseInt(id, 10, 64)
	return shop.PersonID(n), way == "old", err == nil && (way == "old" || way == "new")
}

// MayDecide reports whether somebody may say which phone is another's: an owner,
// and never about a phone of their own.
func MayDecide(by, about shop.Person) bool {
	return about.Disputed && by.Role == shop.Owner && by.ID != about.ID && !by.Disputed
}

// card makes the payload of a button that stands by itself; "" for a shop without machines.
func (w words) card(choice, arg string) string {
	if len(w.f.Shop.Machines) == 0 {
		return ""
	}
	return "o:" + choice + ":" + arg + ":" + strconv.FormatInt(int64(w.f.Shop.Machines[0].ID), 10)
}

// old tells a phone that was a person's what became of it. One in whose place
// another came can say with one tap that this is not right; what was done at the
// computer it cannot stop.
func (w words) old(phone chat.Chat, kind string) chat.Reply {
	r := w.plain(chat.Audience{Chat: phone}, "event."+kind+"-old")
	tap := w.card(objects, strconv.FormatInt(int64(w.e.Person), 10))
	if w.e.Kind == chat.PhoneNew && w.e.What == "" && tap != "" {
		r.Buttons = [][]chat.Button{{{Label: w.Say("button.object"), Data: tap}}}
	}
	return r
}

// objected tells both phones what holds now, and asks the other owners to decide.
// Where there is none, managers hear that the computer decides.
func (w words) objected() []chat.Reply {
	list := []chat.Reply{w.plain(chat.Audience{Person: w.e.Person}, "event.objected")}
	for _, p := range w.f.Shop.People {
		if !MayDecide(p, w.person) {
			continue
		}
		id := strconv.FormatInt(int64(w.e.Person), 10)
		r := w.plain(chat.Audience{Person: p.ID, Own: true}, "event.objected-other")
		for _, way := range []string{"old", "new"} {
			if tap := w.card(decides, id+"."+way); tap != "" {
				r.Buttons = append(r.Buttons, []chat.Button{{Label: w.Say("button.phone-" + way), Data: tap}})
			}
		}
		list = append(list, r)
	}
	if len(list) == 1 {
		list = append(list, w.plain(chat.Audience{Managers: true, Not: w.e.Person}, "event.objected-nobody"))
	}
	return list
}

// decided tells the phone that stays, the one that goes, and the owners.
func (w words) decided() (list []chat.Reply) {
	for _, phone := range w.e.Phones {
		list = append(list, w.plain(chat.Audience{Chat: phone}, "event.decided-gone"))
	}
	return append(list, w.plain(chat.Audience{Person: w.e.Person}, "event.decided"),
		w.plain(chat.Audience{Owners: true, Not: w.e.Person}, "event.decided-"+w.e.What+"-other"))
}
