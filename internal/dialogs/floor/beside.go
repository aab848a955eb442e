package floor

import (
	"cmp"
	"slices"
	"strings"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// ledger is the books of a machine beside the one at hand.
type ledger struct {
	entries []books.Entry
	machine *books.Machine
}

// Takes puts the floor into another shop, whose machines all have books that are empty so far.
// [Floor.Machine] and [Floor.Entries] are from then on those of the machine that the newest input was about.
func (f *Floor) Takes(s *shop.Shop) {
	f.Shop, f.beside = s, nil
	f.Entries, f.Machine = nil, books.New(s.Machines[0].ID)
	f.Now = f.Now.In(s.Location)
	for _, m := range s.Machines[1:] {
		f.beside = append(f.beside, ledger{machine: books.New(m.ID)})
	}
}

// meant takes the books to hand that an input is about, as a desk does: those of the card
// that stands by itself and was tapped, or of the machine that the chat is about.
func (f *Floor) meant(in chat.Input) {
	if len(f.beside) == 0 {
		return
	}
	f.TurnTo(f.Shop.Meant(chat.TapMachine(in.Tap), f.States[in.Chat].Machine))
}

// TurnTo takes the books of a machine to hand.
func (f *Floor) TurnTo(id shop.MachineID) {
	for i, l := range f.beside {
		if l.machine.ID == id {
			f.beside[i] = ledger{f.Entries, f.Machine}
			f.Entries, f.Machine = l.entries, l.machine
		}
	}
}

// about reports whether somebody's work is about a machine; where there is one, all is.
func (f *Floor) about(a chat.Activity, m *books.Machine) bool {
	return len(f.beside) == 0 || a.Machine == m.ID
}

// sites are the machines as somebody's list of them shows.
func (f *Floor) sites(name string, p shop.Person) []chat.Site {
	list := []chat.Site{{Shop: f.Shop, Person: p, Machine: f.Machine}}
	for _, l := range f.beside {
		list = append(list, chat.Site{Shop: f.Shop, Person: p, Machine: l.machine})
	}
	if len(list) > 1 {
		slices.SortFunc(list, func(a, b chat.Site) int { return cmp.Compare(a.Machine.ID, b.Machine.ID) })
	}
	for where, st := range f.States {
		other := strings.TrimPrefix(string(where), "term:")
		a, ok := st.Under(where, People[other])
		for i := range list {
			list[i].Blind = list[i].Blind || ok && other != name && a.Blind && f.about(a, list[i].Machine)
		}
	}
	return list
}
