package people

import (
	"errors"
	"fmt"
	"slices"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Names of people are kept beside the versions of the settings: those are never
// changed, and a name must be erasable.

// putNames takes the names off settings that are to be stored and keeps them.
// A name that was erased stays so.
func (t People) putNames(id shop.ID, s shop.Settings) (shop.Settings, error) {
	s.People, s.Former = slices.Clone(s.People), slices.Clone(s.Former)
	for _, list := range [][]shop.Person{s.People, s.Former} {
		for i := range list {
			if err := t.putName(id, list[i]); err != nil {
				return s, fmt.Errorf("names of shop %d: %w", id, err)
			}
			list[i].Name = ""
		}
	}
	return s, nil
}

func (t People) putName(id shop.ID, p shop.Person) error {
	if p.Name == "" {
		return nil
	}
	mark, err := t.told.Salt()
	if err != nil {
		return err
	}
	res, err := t.tx.Result(`INSERT INTO person (shop, id, name, mark) VALUES (?, ?, ?, ?) ON CONFLICT (shop, id)
		DO UPDATE SET name = excluded.name, mark = excluded.mark WHERE name IS NOT NULL AND name <> excluded.name`,
		id, p.ID, p.Name, mark)
	if err != nil {
		return err
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return err
	}
	return t.told.TellPerson(id, p.ID)
}

// namesQuery gives the names of a shop's people that are not erased.
const namesQuery = "SELECT id, coalesce(name, '') FROM person WHERE shop = ?"

// takeNames puts the names into settings that were read.
func takeNames(each file.Query, id shop.ID, s *shop.Settings) error {
	names := map[shop.PersonID]string{}
	err := each(namesQuery, []any{id}, func(row file.Scanner) error {
		var p shop.PersonID
		var name string
		err := row.Scan(&p, &name)
		names[p] = name
		return err
	})
	if err != nil {
		return fmt.Errorf("names of shop %d: %w", id, err)
	}
	for _, list := range [][]shop.Person{s.People, s.Former} {
		for i := range list {
			if name, ok := names[list[i].ID]; ok {
				list[i].Name = name
			}
		}
	}
	return nil
}

// EraseName takes a person's name and personal code out of the file. What was
// there is overwritten; the log is emptied when the desk is idle.
func (t People) EraseName(id shop.ID, person shop.PersonID) error {
	delete(t.at.shops, id)
	if err := t.forgetNamed(id, person); err != nil {
		return fmt.Errorf("erase a name: %w", err)
	}
	err := t.tx.Exec(
		"UPDATE person SET name = NULL, mark = NULL, salt = NULL, pin = NULL WHERE shop = ? AND id = ?",
		id,
		person,
	)
	if err == nil {
		err = t.tx.Exec("UPDATE code SET name = '' WHERE shop = ? AND person = ?", id, person)
	}
	if err != nil {
		return fmt.Errorf("erase a name: %w", err)
	}
	return t.told.TellPerson(id, person)
}

// SetPIN keeps what is left of a personal code.
func (t People) SetPIN(id shop.ID, person shop.PersonID, salt, pin []byte) error {
	err := t.tx.Exec("UPDATE person SET salt = ?, pin = ? WHERE shop = ? AND id = ?", salt, pin, id, person)
	if err != nil {
		return err
	}
	return t.told.TellPerson(id, person)
}

// PIN gives what is left of a personal code; empty when there is none.
func (t People) PIN(id shop.ID, person shop.PersonID) (salt, pin []byte, err error) {
	err = t.tx.One("SELECT salt, pin FROM person WHERE shop = ? AND id = ?", []any{id, person}, &salt, &pin)
	if errors.Is(err, file.ErrNone) {
		return nil, nil, nil
	}
	return salt, pin, err
}
