package store

import (
	"errors"
	"fmt"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// Account finds the shop and person a chat talks for: of several shops the one
// used last. ErrNone means a stranger, or a phone that is frozen.
func (t *Tx) Account(where chat.Chat) (Account, error) {
	if a, ok := t.db.cache.accounts[where]; ok {
		return a, nil
	}
	a := Account{Chat: where}
	err := t.one(
		`SELECT shop, person, shared,
			(SELECT count(*) FROM account o WHERE o.chat = a.chat AND o.frozen = 0) > 1
		FROM account a WHERE chat = ? AND frozen = 0 ORDER BY used DESC, shop LIMIT 1`,
		[]any{where},
		&a.Shop,
		&a.Person,
		&a.Shared,
		&a.Several,
	)
	if err != nil {
		return a, err
	}
	keep(&t.db.cache.accounts, keepSmall, where, a)
	return a, nil
}

// AccountIn finds a chat's account with one shop, frozen or not.
func (t *Tx) AccountIn(where chat.Chat, id shop.ID) (Account, error) {
	a := Account{Chat: where, Shop: id}
	err := t.one("SELECT person, shared, frozen FROM account WHERE chat = ? AND shop = ?", []any{where, id},
		&a.Person, &a.Shared, &a.Frozen)
	return a, err
}

// Accounts lists all a chat may talk for, by shop.
func (t *Tx) Accounts(where chat.Chat) (list []Account, err error) {
	err = t.each(
		"SELECT shop, person, shared FROM account WHERE chat = ? AND frozen = 0 ORDER BY shop",
		[]any{where},
		func(row scanner) error {
			a := Account{Chat: where}
			err := row.Scan(&a.Shop, &a.Person, &a.Shared)
			list = append(list, a)
			return err
		},
	)
	return list, err
}

// Phones lists a shop's accounts, frozen ones too, by person and chat.
func (t *Tx) Phones(id shop.ID) (list []Account, err error) {
	err = t.each(
		"SELECT chat, person, shared, frozen FROM account WHERE shop = ? ORDER BY person, chat",
		[]any{id},
		func(row scanner) error {
			a := Account{Shop: id}
			err := row.Scan(&a.Chat, &a.Person, &a.Shared, &a.Frozen)
			list = append(list, a)
			return err
		},
	)
	return list, err
}

// Join makes a chat talk for a person, whatever it talked for in that shop.
func (t *Tx) Join(where chat.Chat, id shop.ID, person shop.PersonID) error {
	t.forgetAccounts(id)
	err := t.exec(`INSERT INTO account (chat, shop, person, used) VALUES (?1, ?2, ?3,
		(SELECT coalesce(max(used), 0) + 1 FROM account WHERE chat = ?1)) ON CONFLICT (chat, shop)
		DO UPDATE SET person = excluded.person, used = excluded.used, frozen = 0, shared = 0`,
		where, id, person)
	if err != nil {
		return fmt.Errorf("account: %w", err)
	}
	return nil
}

// Turn makes a shop the one a chat talks about.
func (t *Tx) Turn(where chat.Chat, id shop.ID) error {
	delete(t.db.cache.accounts, where)
	return t.exec(
		`UPDATE account SET used = (SELECT max(used) + 1 FROM account WHERE chat = ?1)
			WHERE chat = ?1 AND shop = ?2`,
		where,
		id,
	)
}

// Freeze cuts a person's accounts off, or lets them in again.
func (t *Tx) Freeze(id shop.ID, person shop.PersonID, frozen bool) error {
	t.forgetAccounts(id)
	return t.exec("UPDATE account SET frozen = ? WHERE shop = ? AND person = ?", frozen, id, person)
}

// Share marks a chat as that of a phone that several people use, or takes the mark off.
func (t *Tx) Share(where chat.Chat, id shop.ID, shared bool) error {
	t.forgetAccounts(id)
	return t.exec("UPDATE account SET shared = ? WHERE chat = ? AND shop = ?", shared, where, id)
}

// Leave takes a person's accounts away.
func (t *Tx) Leave(id shop.ID, person shop.PersonID) error {
	t.forgetAccounts(id)
	return t.exec("DELETE FROM account WHERE shop = ? AND person = ?", id, person)
}

func (t *Tx) forgetAccounts(id shop.ID) {
	delete(t.db.cache.teams, id)
	t.db.cache.accounts = nil
}

// CutOff ends the dialog in a chat and drops what waits to be sent there. It
// gives the rows dropped.
func (t *Tx) CutOff(where chat.Chat) (rows []int64, err error) {
	s, err := t.State(where)
	if err != nil {
		return nil, err
	}
	if err := t.SaveState(where, 0, chat.State{V: s.V, Rev: s.Rev + 1}); err != nil {
		return nil, err
	}
	err = t.each(
		"SELECT id FROM outbox WHERE chat = ? AND body IS NOT NULL",
		[]any{where},
		func(row scanner) error {
			var id int64
			err := row.Scan(&id)
			rows = append(rows, id)
			return err
		},
	)
	if err != nil {
		return nil, err
	}
	for _, id := range rows {
		err = errors.Join(err, t.Sent(id, 0))
	}
	return rows, err
}
