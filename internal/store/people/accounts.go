package people

import (
	"fmt"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// How the frozen column of an account stands. A phone in whose place another came is
// kept, so that it can object; one that did speaks for its person beside the other.
const (
	lost      = 1 // cut off, beside what else holds
	former    = 2
	objecting = 4

	// speaks is the condition under which a chat speaks for its person.
	speaks = "IN (0, 4)"
)

// standing reads the column.
func (a *Account) standing(n int64) {
	a.Frozen, a.Former = n&(lost|former) != 0, n == former
}

// Account finds the shop and person a chat talks for: of several shops the one
// used last. file.ErrNone means a stranger, or a phone that is frozen.
func (t People) Account(where chat.Chat) (Account, error) {
	if a, ok := t.at.accounts[where]; ok {
		return a, nil
	}
	a := Account{Chat: where}
	err := t.tx.One(
		`SELECT shop, person, shared,
			(SELECT count(*) FROM account o WHERE o.chat = a.chat AND o.frozen `+speaks+`) > 1
		FROM account a WHERE chat = ? AND frozen `+speaks+` ORDER BY used DESC, shop LIMIT 1`,
		[]any{where},
		&a.Shop,
		&a.Person,
		&a.Shared,
		&a.Several,
	)
	if err != nil {
		return a, err
	}
	file.Keep(&t.at.accounts, file.KeepSmall, where, a)
	return a, nil
}

// AccountIn finds a chat's account with one shop, frozen or not.
func (t People) AccountIn(where chat.Chat, id shop.ID) (Account, error) {
	a := Account{Chat: where, Shop: id}
	var frozen int64
	err := t.tx.One("SELECT person, shared, frozen FROM account WHERE chat = ? AND shop = ?", []any{where, id},
		&a.Person, &a.Shared, &frozen)
	a.standing(frozen)
	return a, err
}

// Accounts lists all a chat may talk for, by shop.
func (t People) Accounts(where chat.Chat) (list []Account, err error) {
	err = t.tx.Each(
		"SELECT shop, person, shared FROM account WHERE chat = ? AND frozen "+speaks+" ORDER BY shop",
		[]any{where},
		func(row file.Scanner) error {
			a := Account{Chat: where}
			err := row.Scan(&a.Shop, &a.Person, &a.Shared)
			list = append(list, a)
			return err
		},
	)
	return list, err
}

// Phones lists a shop's accounts, frozen ones too, by person and chat.
func (t People) Phones(id shop.ID) (list []Account, err error) {
	err = t.tx.Each(
		"SELECT chat, person, shared, frozen FROM account WHERE shop = ? ORDER BY person, chat",
		[]any{id},
		func(row file.Scanner) error {
			a := Account{Shop: id}
			var frozen int64
			err := row.Scan(&a.Chat, &a.Person, &a.Shared, &frozen)
			a.standing(frozen)
			list = append(list, a)
			return err
		},
	)
	return list, err
}

// Join makes a chat talk for a person, whatever it talked for in that shop.
func (t People) Join(where chat.Chat, id shop.ID, person shop.PersonID) error {
	t.forgetAccounts(id)
	mark, err := t.told.Salt()
	if err != nil {
		return fmt.Errorf("account: %w", err)
	}
	err = t.tx.Exec(`INSERT INTO account (chat, shop, person, used, mark) VALUES (?1, ?2, ?3,
		(SELECT coalesce(max(used), 0) + 1 FROM account WHERE chat = ?1), ?4) ON CONFLICT (chat, shop)
		DO UPDATE SET person = excluded.person, used = excluded.used, frozen = 0, shared = 0`,
		where, id, person, mark)
	if err != nil {
		return fmt.Errorf("account: %w", err)
	}
	return t.told.TellAccounts(id, person, string(where))
}

// Turn makes a shop the one a chat talks about.
func (t People) Turn(where chat.Chat, id shop.ID) error {
	delete(t.at.accounts, where)
	return t.tx.Exec(
		`UPDATE account SET used = (SELECT max(used) + 1 FROM account WHERE chat = ?1)
			WHERE chat = ?1 AND shop = ?2`,
		where,
		id,
	)
}

// Freeze cuts a person's accounts off, or lets them in again.
func (t People) Freeze(id shop.ID, person shop.PersonID, frozen bool) error {
	set := "frozen | 1 WHERE frozen IN (0, 4)"
	if !frozen {
		set = "frozen & ~1 WHERE frozen IN (1, 5)"
	}
	return t.stand(id, person, set)
}

// stand changes how accounts of a person stand.
func (t People) stand(id shop.ID, person shop.PersonID, set string) error {
	t.forgetAccounts(id)
	err := t.tx.Exec("UPDATE account SET frozen = "+set+" AND shop = ? AND person = ?", id, person)
	if err != nil {
		return err
	}
	return t.told.TellAccounts(id, person, "")
}

// Replace cuts a person's accounts off because another comes in their place. They
// may object; one that was lost may not: it goes.
func (t People) Replace(id shop.ID, person shop.PersonID) error {
	if err := t.drop(id, person, "frozen IN (1, 5)"); err != nil {
		return err
	}
	return t.stand(id, person, "2 WHERE frozen IN (0, 4)")
}

// Object lets an account speak again, beside the one that came in its place.
func (t People) Object(where chat.Chat, id shop.ID) error {
	t.forgetAccounts(id)
	err := t.tx.Exec("UPDATE account SET frozen = ? WHERE chat = ? AND shop = ? AND frozen = ?",
		objecting, where, id, former)
	if err != nil {
		return err
	}
	return t.told.TellAccounts(id, 0, string(where))
}

// Decide ends an objection: the account that objected, or those that came in its
// place, is the person's from now on, and the others go.
func (t People) Decide(id shop.ID, person shop.PersonID, old bool) error {
	gone := "frozen IN (2, 4, 5)"
	if old {
		gone = "frozen IN (0, 1, 2)"
	}
	if err := t.drop(id, person, gone); err != nil {
		return err
	}
	return t.stand(id, person, "frozen & ~4 WHERE frozen IN (0, 1, 4, 5)")
}

// drop takes those of a person's accounts away that a condition picks.
func (t People) drop(id shop.ID, person shop.PersonID, which string) error {
	t.forgetAccounts(id)
	if err := t.told.GoneAccounts(id, person, which); err != nil {
		return err
	}
	return t.tx.Exec("DELETE FROM account WHERE shop = ? AND person = ? AND "+which, id, person)
}

// Share marks a chat as that of a phone that several people use, or takes the mark off.
func (t People) Share(where chat.Chat, id shop.ID, shared bool) error {
	t.forgetAccounts(id)
	err := t.tx.Exec("UPDATE account SET shared = ? WHERE chat = ? AND shop = ?", shared, where, id)
	if err != nil {
		return err
	}
	return t.told.TellAccounts(id, 0, string(where))
}

// Leave takes a person's accounts away.
func (t People) Leave(id shop.ID, person shop.PersonID) error { return t.drop(id, person, "TRUE") }

func (t People) forgetAccounts(id shop.ID) {
	delete(t.at.teams, id)
	t.at.accounts = nil
}
