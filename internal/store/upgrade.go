package store

import (
	"fmt"
	"slices"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/firstdays"
	"shopfloat/internal/shop"
)

// upgrade brings what an older program kept of each machine up to date, one
// transaction a machine, so that it may end at any point: what is done is done
// and the rest is done at the next start. Entries stay as they are.
func (db *DB) upgrade(now time.Time) error {
	var shops []shop.ID
	var list []shop.MachineID
	err := db.within(now, func(t *Tx) (err error) {
		if shops, err = t.chain.Untold(); err == nil {
			list, err = t.Outdated()
		}
		return err
	})
	for _, id := range shops {
		if err == nil {
			err = db.within(now, func(t *Tx) error { return t.TellAll(id) })
		}
	}
	for _, id := range list {
		if err == nil {
			err = db.within(now, func(t *Tx) error { return t.renew(id) })
		}
	}
	if err != nil {
		return err
	}
	return db.learn(now)
}

// learn keeps for advice what machines' records tell of which nothing is kept.
func (db *DB) learn(now time.Time) error {
	var list []shop.MachineID
	err := db.within(now, func(t *Tx) (err error) {
		list, err = t.Unlearnt()
		return err
	})
	for _, id := range list {
		if err == nil {
			err = db.within(now, func(t *Tx) error { return t.Learn(id) })
		}
	}
	return err
}

func (db *DB) within(now time.Time, fn func(*Tx) error) error {
	t, err := db.Begin(now)
	if err != nil {
		return err
	}
	if err := fn(t); err != nil {
		t.Rollback()
		return err
	}
	return t.Commit()
}

// renew folds a machine anew. Records that say no day get it by one more entry,
// once and for all.
func (t *Tx) renew(id shop.MachineID) error {
	if err := t.Refold(id); err != nil {
		return err
	}
	entries, err := t.Entries(id, time.Time{})
	if err != nil || !undated(entries) {
		return err
	}
	_, of, err := t.Machine(id)
	if err != nil {
		return err
	}
	newest, err := t.Shop(of)
	if err != nil {
		return err
	}
	days, moved, err := t.daysOf(newest, entries)
	if err != nil {
		return err
	}
	cause, _, err := t.Handled(Arrival{Source: "upgrade", Key: fmt.Sprintf("days of machine %d", id)})
	if err != nil {
		return err
	}
	r := books.Record{Kind: books.Dated, Happened: t.Now(), Days: days}
	if err := t.Post(id, By{Settings: newest.Version, Cause: cause}, r, nil); err != nil {
		return err
	}
	if !moved {
		return nil
	}
	return t.SetDeadline(Deadline{Machine: id, Name: chat.DaysMoved, Due: t.Now()})
}

// undated reports whether records are there that say no day.
func undated(entries []books.Entry) bool {
	return len(entries) > 0 && entries[0].Day == "" &&
		!slices.ContainsFunc(entries, func(e books.Entry) bool { return e.Kind == books.Dated })
}

// daysOf works out the day of each record by the first rule and the settings it
// names. moved says that some of them were told under another day so far: by
// the newest settings, and a slip with its period.
func (t *Tx) daysOf(newest *shop.Shop, entries []books.Entry) (days books.DaysOf, moved bool, err error) {
	rules := map[int64]firstdays.Rule{}
	for _, e := range entries {
		if _, ok := rules[e.Settings]; ok || e.Kind == books.Undo || e.Kind == books.Correction {
			continue
		}
		then, err := t.ShopAt(newest.ID, e.Settings)
		if err != nil {
			return nil, false, err
		}
		rules[e.Settings] = firstdays.RuleOf(then)
	}
	rules[0] = firstdays.RuleOf(newest) // as it was told until now
	days = firstdays.Of(entries, func(e books.Entry) firstdays.Rule { return rules[e.Settings] })
	told := firstdays.Of(entries, func(books.Entry) firstdays.Rule { return rules[0] })
	return days, len(firstdays.Retold(entries, days, told)) > 0, nil
}
