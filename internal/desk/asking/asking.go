// Package asking reads, within a step's transaction, what only few steps ask for.
package asking

import (
	"errors"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk/estate"
	"shopfloat/internal/dues"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// Asking answers one step. The first thing that goes wrong fails it.
type Asking struct {
	Err error

	tx   *store.Tx
	shop *shop.Shop
	chat chat.Chat

	machine shop.MachineID // 0: none
	ledger  []books.Entry  // once it was asked for
	copied  func() *chat.Copied
	proof   func(shop.ID) *chat.Proved
	others  []*Asking // of other machines
}

// Of answers a step about a shop, in a chat, with its machine's books where it has any: it
// puts what may be asked into the facts.
func Of(tx *store.Tx, f *chat.Facts, where chat.Chat, copied func() *chat.Copied,
	proof func(shop.ID) *chat.Proved) *Asking {
	a := &Asking{tx: tx, shop: f.Shop, chat: where, copied: copied, proof: proof}
	if f.Machine != nil {
		a.machine = f.Machine.ID
	}
	f.Ask = chat.Ask{Phones: a.phones, Sites: a.sites, Did: a.did, Entries: a.entries, Since: a.since,
		Lately: a.lately, Before: a.before, Learned: a.learned,
		Claims: a.claims, Owed: a.owed, Due: a.due,
		Copied: a.copied, Proved: a.proved, Told: a.told, Coded: a.coded, Books: a.books,
		Estates: a.estates, At: a.at, Finished: a.finished, Taught: a.taught, Phrases: a.phrases}
	return a
}

// at is what can be asked of another machine of the shop.
func (a *Asking) at(id shop.MachineID) (*books.Machine, bool, chat.Ask) {
	o := &Asking{tx: a.tx, shop: a.shop, chat: a.chat, machine: id}
	a.others = append(a.others, o)
	site, err := o.site(a.shop, id)
	if o.Err = err; err != nil {
		return books.New(id), true, chat.Ask{}
	}
	return site.Machine, site.Blind, chat.Ask{Entries: o.entries, Since: o.since, Lately: o.lately,
		Before: o.before, Learned: o.learned, Claims: o.claims, Owed: o.owed, Due: o.due}
}

// Failed is what went wrong so far, of other machines too.
func (a *Asking) Failed() error {
	err := a.Err
	for _, o := range a.others {
		err = errors.Join(err, o.Err)
	}
	return err
}

func (a *Asking) finished() []shop.Finished {
	list, err := a.tx.Finished(a.shop.ID)
	a.Err = errors.Join(a.Err, err)
	return list
}

// taught is what words of the shop's own mean.
func (a *Asking) taught(phrase string) string {
	means, err := a.tx.Taught(a.shop.ID, phrase)
	a.Err = errors.Join(a.Err, err)
	return means
}

func (a *Asking) phrases() chat.Phrases {
	p, err := a.tx.Phrases(a.shop.ID)
	a.Err = errors.Join(a.Err, err)
	return p
}

func (a *Asking) proved() *chat.Proved {
	if a.proof == nil || a.shop == nil {
		return nil
	}
	return a.proof(a.shop.ID)
}

func (a *Asking) estates(owner shop.PersonID) []chat.Estate {
	return estate.List(a.tx, a.shop.ID, owner, func(err error) { a.Err = errors.Join(a.Err, err) })
}

func (a *Asking) phones() []chat.Phone {
	list, err := a.tx.Phones(a.shop.ID)
	a.Err = errors.Join(a.Err, err)
	phones := make([]chat.Phone, 0, len(list))
	for _, p := range list {
		if p.Former {
			continue // theirs no longer
		}
		gone, err := a.tx.Gone(p.Chat)
		a.Err = errors.Join(a.Err, err)
		phones = append(phones,
			chat.Phone{Chat: p.Chat, Person: p.Person, Shared: p.Shared, Frozen: p.Frozen, Gone: gone})
	}
	return phones
}

// coded says whether somebody has a personal code.
func (a *Asking) coded(person shop.PersonID) bool {
	_, pin, err := a.tx.PIN(a.shop.ID, person)
	a.Err = errors.Join(a.Err, err)
	return len(pin) > 0
}

// told adds up, over the phones of each person of the shop, what was sent under a name.
func (a *Asking) told(key string) []chat.Told {
	team, err := a.tx.Team(a.shop.ID)
	a.Err = errors.Join(a.Err, err)
	var list []chat.Told
	for _, acc := range team {
		times, last, err := a.tx.Arrived(acc.Chat, key)
		a.Err = errors.Join(a.Err, err)
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

func (a *Asking) sites() []chat.Site {
	accounts, err := a.tx.Accounts(a.chat)
	a.Err = errors.Join(a.Err, err)
	var sites []chat.Site
	for _, acc := range accounts {
		sh, err := a.tx.Shop(acc.Shop)
		if err != nil {
			a.Err = errors.Join(a.Err, err)
			continue
		}
		person, ok := sh.Person(acc.Person)
		if !ok {
			continue
		}
		person.Role = person.Acts()
		if len(sh.Machines) == 0 {
			sites = append(sites, chat.Site{Shop: sh, Person: person, Shared: acc.Shared})
		}
		for _, m := range sh.Machines {
			site, err := a.site(sh, m.ID)
			a.Err = errors.Join(a.Err, err)
			site.Person, site.Shared, site.Ask = person, acc.Shared, a.aside(sh, m.ID)
			sites = append(sites, site)
		}
	}
	return sites
}

// aside is what can be asked of a machine that is told of beside others.
func (a *Asking) aside(sh *shop.Shop, id shop.MachineID) chat.Ask {
	o := &Asking{tx: a.tx, shop: sh, chat: a.chat, machine: id}
	a.others = append(a.others, o)
	return chat.Ask{Entries: o.entries, Since: o.since, Lately: o.lately, Before: o.before, Learned: o.learned,
		Claims: o.claims, Owed: o.owed, Due: o.due, Finished: o.finished}
}

func (a *Asking) site(sh *shop.Shop, id shop.MachineID) (chat.Site, error) {
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

// ofMachine asks something about the machine; of none there is nothing to know.
func ofMachine[Q, T any](a *Asking, ask func(shop.MachineID, Q) (T, error), what Q) (known T) {
	if a.machine == 0 {
		return known
	}
	known, err := ask(a.machine, what)
	a.Err = errors.Join(a.Err, err)
	return known
}

func (a *Asking) claims(w dues.Wanted) []books.Claim { return ofMachine(a, a.tx.Claims, w) }

func (a *Asking) owed(since shop.Date) dues.Owed { return ofMachine(a, a.tx.Owed, since) }

func (a *Asking) due(before shop.Date) dues.Owed { return ofMachine(a, a.tx.OwedBefore, before) }

func (a *Asking) did(by shop.PersonID, since time.Time) []chat.Did {
	var list []chat.Did
	for _, m := range a.shop.Machines {
		entries, err := a.tx.Entries(m.ID, since)
		a.Err = errors.Join(a.Err, err)
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

func (a *Asking) entries() []books.Entry {
	if a.machine == 0 || a.ledger != nil {
		return a.ledger
	}
	var err error
	a.ledger, err = a.tx.Entries(a.machine, time.Time{})
	a.Err = errors.Join(a.Err, err)
	return a.ledger
}

// lately reads what is needed to tell of the days from one on.
func (a *Asking) lately(from shop.Date) (*books.Machine, []books.Entry) {
	if a.machine == 0 {
		return nil, nil
	}
	then, entries, err := a.tx.Lately(a.machine, from)
	a.Err = errors.Join(a.Err, err)
	return then, entries
}

// before reads what is needed to work out anew what came from an entry on.
func (a *Asking) before(seq int64) (*books.Machine, []books.Entry) {
	if a.machine == 0 {
		return nil, nil
	}
	then, entries, err := a.tx.Before(a.machine, seq)
	a.Err = errors.Join(a.Err, err)
	return then, entries
}

// learned reads what the ledger tells advice.
func (a *Asking) learned() (advice.State, error) {
	if a.machine == 0 {
		return advice.State{}, nil
	}
	s, err := a.tx.Learned(a.machine)
	if err != nil && !errors.Is(err, store.ErrUnlearnt) {
		a.Err = errors.Join(a.Err, err)
	}
	return s, err
}

// since reads the entries from a number on.
func (a *Asking) since(seq int64) []books.Entry {
	if a.machine == 0 {
		return nil
	}
	list, err := a.tx.EntriesFrom(a.machine, seq)
	a.Err = errors.Join(a.Err, err)
	return list
}

// books gives a machine that the speaker keeps the books of, with claims at hand.
func (a *Asking) books(id shop.MachineID, of []int64) (*shop.Shop, *books.Machine) {
	s, m, err := a.tx.KeptBooks(a.chat, id, of)
	a.Err = errors.Join(a.Err, err)
	return s, m
}
