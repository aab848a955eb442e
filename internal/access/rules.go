package access

import (
	"slices"

	"shopfloat/internal/shop"
)

// The circles of people who may do something.
var (
	everyone = []shop.Role{shop.Owner, shop.Manager, shop.Staff, shop.Bookkeeper}
	counting = []shop.Role{shop.Owner, shop.Manager, shop.Staff}
	keeping  = []shop.Role{shop.Owner, shop.Manager, shop.Bookkeeper}
	managing = []shop.Role{shop.Owner, shop.Manager}
	owning   = []shop.Role{shop.Owner}
)

// rules says who may do what: every command, every dialog and every card that
// stands by itself. What is not listed nobody may do.
var rules = map[string][]shop.Role{
	// the day at the machine
	"open": counting, "topup": counting, "swap": counting, "move": counting, "level": counting,
	"count-now": counting, "spot": counting, "second": counting, "test": counting, "found": counting,
	"close": counting, "finish": counting, "settle": counting, "printed": counting, "earlier": counting,
	"different": counting, "ticks": counting, "undo": counting, "busy": counting,
	"witness": counting, "go-on": counting,

	// shifts and reminders
	"closed": counting, "closing-at": counting, "opening-at": counting, "usual": counting, "ill": counting,
	"nobody": counting, "shift": counting, "start": counting, "later": counting, "hold": counting,
	"agenda": everyone, "hours": everyone, "reminders": everyone, "duty": counting, "lift": managing,
	"say": managing,

	// looking and asking
	"status": everyone, "history": everyone, "help": everyone, "cancel": everyone,
	"switch": everyone, "my-code": everyone,

	// faults
	"guides": everyone, "guide": everyone, "fault": everyone, "faults": everyone, "reference": everyone,
	"contacts": everyone, "numbers": managing, "visit": counting,

	// the money
	"credit": keeping, "debit": keeping, "match": keeping, "owed": keeping, "day": keeping, "month": keeping,
	"float": keeping, "export": keeping, "bank": keeping, "correct": managing,

	// how much to load, and the shop's own cash
	"load": counting, "cash-plan": managing, "backtest": owning,

	// people and what is laid down
	"settings": managing, "people": managing, "invite": managing, "lost-phone": managing, "overview": managing,
	"leaver": managing, "setup": owning, "new-shop": owning,
}

// Allowed reports whether a role may do something.
func Allowed(role shop.Role, action string) bool { return slices.Contains(rules[action], role) }

// MayManage reports whether a role may invite, change or remove another: an
// owner everybody, a manager those who are not owners or managers.
func MayManage(role, other shop.Role) bool {
	switch role {
	case shop.Owner:
		return true
	case shop.Manager:
		return other == shop.Staff || other == shop.Bookkeeper
	}
	return false
}
