// Package estate gathers what an owner's letter of the week is made of: all machines of all
// shops that the owner has, by any of their phones.
package estate

import (
	"cmp"
	"errors"
	"slices"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dues"
	"shopfloat/internal/reminders"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// reading reads within a step; the first thing that goes wrong fails the step.
type reading struct {
	tx   *store.Tx
	fail func(error)
}

// List lists the machines of all shops that somebody of one shop owns.
func List(tx *store.Tx, at shop.ID, owner shop.PersonID, fail func(error)) (list []chat.Estate) {
	a := &reading{tx, fail}
	team, err := tx.Team(at)
	fail(err)
	seen := map[shop.ID]bool{}
	for _, phone := range team {
		if phone.Person != owner {
			continue
		}
		accounts, err := a.tx.Accounts(phone.Chat)
		a.fail(err)
		for _, acc := range accounts {
			sh, err := a.tx.Shop(acc.Shop)
			if err != nil {
				a.fail(err)
				continue
			}
			if p, ok := sh.Person(acc.Person); !ok || p.Role != shop.Owner || seen[sh.ID] {
				continue
			}
			seen[sh.ID] = true
			for _, m := range sh.Machines {
				list = append(list, a.estate(sh, m.ID))
			}
		}
	}
	slices.SortFunc(list, func(x, y chat.Estate) int {
		return cmp.Or(cmp.Compare(x.Shop.ID, y.Shop.ID), cmp.Compare(x.Machine.ID, y.Machine.ID))
	})
	return list
}

func (a *reading) estate(sh *shop.Shop, id shop.MachineID) chat.Estate {
	since := a.tx.Now().Add(-chat.PastReach)
	m, _, err := a.tx.Machine(id)
	a.fail(err)
	under, err := a.tx.Underway(id, "")
	a.fail(err)
	claims, err := a.tx.LastClaims(id)
	a.fail(err)
	word, err := a.tx.CheckWord(id)
	a.fail(err)
	missed, err := a.tx.Missed(sh.ID)
	a.fail(err)
	past := func() []books.Entry {
		entries, err := a.tx.Entries(id, since)
		a.fail(err)
		return entries
	}
	learned := func() (advice.State, error) {
		s, err := a.tx.Learned(id)
		if err != nil && !errors.Is(err, store.ErrUnlearnt) {
			a.fail(err)
		}
		return s, err
	}
	due := func(before shop.Date) dues.Owed {
		o, err := a.tx.OwedBefore(id, before)
		a.fail(err)
		return o
	}
	return chat.Estate{Shop: sh, Due: due, Machine: m.With(claims), Check: word, Missed: missed,
		Blind: slices.ContainsFunc(under, func(u chat.Activity) bool { return u.Blind }),
		Past:  past, Learned: learned, Reminded: a.reminded(sh, id, since)}
}

// reminded adds up, over the phones of a shop, what its people were reminded of.
func (a *reading) reminded(sh *shop.Shop, id shop.MachineID, since time.Time) (list []chat.Reminded) {
	team, err := a.tx.Team(sh.ID)
	a.fail(err)
	at := map[reminders.Name]int{}
	for _, phone := range team {
		sent, err := a.tx.Reminders(phone.Chat, since)
		a.fail(err)
		for _, m := range sent {
			n, machine, ok := reminders.ParseKey(m.Key)
			if !ok || machine != 0 && machine != id {
				continue
			}
			i, had := at[n]
			if !had {
				i, list = len(list), append(list, chat.Reminded{Name: n, First: m.First, Last: m.Last})
				at[n] = i
			}
			list[i].First = earlier(list[i].First, m.First)
			if m.Last.After(list[i].Last) {
				list[i].Last = m.Last
			}
		}
	}
	return list
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}
