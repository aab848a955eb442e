package telling

import (
	"slices"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
)

// Fitting are the machines among those of the speaker that a dialog can be about now, by
// what their books say. False: it is about none, or about any of them.
func Fitting(sites []chat.Site, dialog string, now time.Time) ([]chat.Site, bool) {
	fits, known := fitting[dialog]
	if !known {
		return nil, false
	}
	list := slices.DeleteFunc(slices.Clone(sites), func(s chat.Site) bool {
		return s.Machine == nil || !access.Counting.Has(s.Person.Acts()) || !fits(s, now)
	})
	return list, len(list) > 0
}

// fitting are the dialogs that are about a machine in one state.
var fitting = map[string]func(chat.Site, time.Time) bool{
	"open": func(s chat.Site, now time.Time) bool {
		p := s.Machine.Current()
		return p == nil || !SameDay(p.Opened.In(s.Shop.Location), now.In(s.Shop.Location))
	},
	"close":  func(s chat.Site, at time.Time) bool { return isOpen(s, at) || waits(s, at) },
	"finish": waits, "second": waits, "topup": isOpen, "swap": isOpen, "test": isOpen, "found": isOpen,
	"level": isOpen, "spot": isOpen, "settle": isOpen, "printed": isOpen, "move": isOpen,
}

func isOpen(s chat.Site, _ time.Time) bool { return s.Machine.Current() != nil }
func waits(s chat.Site, _ time.Time) bool  { return len(s.Machine.Pending()) > 0 }
