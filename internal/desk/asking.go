package desk

import (
	"errors"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// asking reads what only few steps ask for. The first thing that goes wrong
// fails the step.
type asking struct {
	tx   *store.Tx
	shop *shop.Shop
	chat chat.Chat
	err  error

	machine shop.MachineID // 0: none
	ledger  []books.Entry  // once it was asked for
	copied  func() *chat.Copied
	others  []*asking // of other machines
}

// failed is what went wrong so far.
func (a *asking) failed() error {
	err := a.err
	for _, o := range a.others {
		err = errors.Join(err, o.err)
	}
	return err
}

// at is what can be asked of another machine of the shop.
func (a *asking) at(id shop.MachineID) (*books.Machine, bool, chat.Ask) {
	o := &asking{tx: a.tx, shop: a.shop, chat: a.chat, machine: id}
	a.others = append(a.others, o)
	site, err := o.site(a.shop, id)
	if o.err = err; err != nil {
		return books.New(id), true, chat.Ask{}
	}
	return site.Machine, site.Blind, chat.Ask{Entries: o.entries, Since: o.since, Claims: o.claims}
}

func (a *asking) ask() chat.Ask {
	return chat.Ask{Phones: a.phones, Sites: a.sites, Did: a.did, Entries: a.entries, Since: a.since,
		Claims: a.claims, Copied: a.copied, Told: a.told, At: a.at}
}

func (a *asking) phones() []chat.Phone {
	list, err := a.tx.Phones(a.shop.ID)
	a.err = errors.Join(a.err, err)
	phones := make([]chat.Phone, 0, len(list))
	for _, p := range list {
		gone, err := a.tx.Gone(p.Chat)
		a.err = errors.Join(a.err, err)
		phones = append(phones,
			chat.Phone{Chat: p.Chat, Person: p.Person, Shared: p.Shared, Frozen: p.Frozen, Gone: gone})
	}
	return phones
}

// told adds up, over the phones of each person of the shop, what was sent under a name.
func (a *asking) told(key string) []chat.Told {
	team, err := a.tx.Team(a.shop.ID)
	a.err = errors.Join(a.err, err)
	var list []chat.Told
	for _, acc := range team {
		times, last, err := a.tx.Arrived(acc.Chat, key)
		a.err = errors.Join(a.err, err)
		if last.IsZero() {
			continue
		}
		if n := len(list) - 1; n >= 0 && list[n].Person == acc.Person { // by person
			times, list = max(times, list[n].Times), list[:n]
		}
		list = append(list, chat.Told{Person: acc.Person, Times: times, Last: last})
	}
	return list
}

func (a *asking) sites() []chat.Site {
	accounts, err := a.tx.Accounts(a.chat)
	a.err = errors.Join(a.err, err)
	var sites []chat.Site
	for _, acc := range accounts {
		sh, err := a.tx.Shop(acc.Shop)
		if err != nil {
			a.err = errors.Join(a.err, err)
			continue
		}
		person, ok := sh.Person(acc.Person)
		if !ok {
			continue
		}
		person.Role = person.Acts()
		if len(sh.Machines) == 0 {
			sites = append(sites, chat.Site{Shop: sh, Person: person})
		}
		for _, m := range sh.Machines {
			site, err := a.site(sh, m.ID)
			a.err = errors.Join(a.err, err)
			site.Person = person
			sites = append(sites, site)
		}
	}
	return sites
}

func (a *asking) site(sh *shop.Shop, id shop.MachineID) (chat.Site, error) {
	s := chat.Site{Shop: sh}
	var err error
	if s.Machine, _, err = a.tx.Machine(id); err != nil {
		return s, err
	}
	under, err := a.tx.Underway(id, "")
	for _, u := range under {
		s.Blind = s.Blind || u.Blind
	}
	return s, err
}

func (a *asking) claims() []books.Claim {
	if a.machine == 0 {
		return nil
	}
	list, err := a.tx.Claims(a.machine, store.Wanted{})
	a.err = errors.Join(a.err, err)
	return list
}

func (a *asking) did(by shop.PersonID, since time.Time) []chat.Did {
	var list []chat.Did
	for _, m := range a.shop.Machines {
		entries, err := a.tx.Entries(m.ID, since)
		a.err = errors.Join(a.err, err)
		for _, e := range entries {
			if e.By == by && !e.Recorded.Before(since) {
				list = append(
					list,
					chat.Did{Machine: m.ID, Seq: e.Seq, Kind: e.Kind, Happened: e.Happened},
				)
			}
		}
	}
	return list
}

func (a *asking) entries() []books.Entry {
	if a.machine == 0 || a.ledger != nil {
		return a.ledger
	}
	var err error
	a.ledger, err = a.tx.Entries(a.machine, time.Time{})
	a.err = errors.Join(a.err, err)
	return a.ledger
}

// since reads the entries from a number on.
func (a *asking) since(seq int64) []books.Entry {
	if a.machine == 0 {
		return nil
	}
	list, err := a.tx.EntriesFrom(a.machine, seq)
	a.err = errors.Join(a.err, err)
	return list
}
