package trust

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// Phones are what is so of somebody's phones together.
type Phones struct{ Live, Lost, Shared bool }

// PhonesOf sums up a person's phones out of all of a shop.
func PhonesOf(all []chat.Phone, id shop.PersonID) (is Phones) {
	for _, p := range all {
		if p.Person == id {
			is.Live, is.Lost, is.Shared = is.Live || !p.Frozen, is.Lost || p.Frozen, is.Shared || p.Shared
		}
	}
	return is
}

// Actions are what somebody who may change another can do about them now: about their
// role, their phone and their code. coded says that they have one; last, that nobody
// would own the shop without them.
func Actions(by, about shop.Person, phone Phones, coded, last bool) (list []string) {
	add := func(may bool, action string) {
		if may {
			list = append(list, action)
		}
	}
	other := by.ID != about.ID
	add(by.Role == shop.Owner || other, "role")
	add(about.Deputy, "no-deputy")
	add(!about.Deputy && about.Role == shop.Staff, "deputy")
	add(phone.Shared, "unshare")
	add(!phone.Shared && phone.Live && !last, "share") // somebody must be able to take the mark off again
	add(other && !about.Disputed, "phone")
	add(other && MayDecide(by, about), "old")
	add(other && MayDecide(by, about), "new")
	add(other && phone.Lost, "thaw")
	add(other && !phone.Lost && phone.Live, "freeze")
	add(other && (about.Signs || coded), "void")
	add(other && !about.Signs && !coded, "may-sign")
	return append(list, "remove")
}
