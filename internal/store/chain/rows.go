package chain

import (
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/seal"
)

// Row is a row of one of the tables, with the shop, the key and the digest that
// its entry has.
type Row struct {
	Shop   shop.ID
	Kind   Kind
	Key    string
	Digest []byte
}

// rows read a table: all of it, or where a condition on ?1 and ?2 holds.
var rows = []struct {
	kind  Kind
	query string
	scan  func(file.Scanner) (Row, error)
}{
	{Settings, "SELECT shop, version, hash FROM settings", settingsRow},
	{Person, "SELECT shop, id, name, mark, salt, pin FROM person", personRow},
	{Account, "SELECT shop, chat, person, frozen, shared, mark FROM account", accountRow},
	{Code, "SELECT shop, hash, person, role, by_person, expires, used FROM code", codeRow},
	{Month, "SELECT shop, month, by_person, finished, upto FROM month", monthRow},
	{Picture, `SELECT coalesce(m.shop, 0), p.machine, p.seq, p.n, p.digest FROM picture p
		LEFT JOIN machine m ON m.id = p.machine`, pictureRow},
}

// Rows hands over every row that has an entry in the chain.
func Rows(each file.Query, fn func(Row) error) error {
	for _, r := range rows {
		err := each(r.query, nil, func(row file.Scanner) error {
			x, err := r.scan(row)
			if err != nil {
				return err
			}
			x.Kind = r.kind
			return fn(x)
		})
		if err != nil {
			return fmt.Errorf("%s: %w", r.kind, err)
		}
	}
	return nil
}

// told adds how the rows of a kind read that a condition picks.
func (t Chain) told(kind Kind, where string, args ...any) error {
	for _, r := range rows {
		if r.kind != kind {
			continue
		}
		var list []Row
		err := t.tx.Each(r.query+" WHERE "+where, args, func(row file.Scanner) error {
			x, err := r.scan(row)
			list = append(list, x)
			return err
		})
		for _, x := range list {
			err = errors.Join(err, t.Tell(x.Shop, kind, x.Key, x.Digest))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// TellSettings adds a version of the settings.
func (t Chain) TellSettings(id shop.ID, version int64) error {
	return t.told(Settings, "shop = ? AND version = ?", id, version)
}

// TellPerson adds how a person's row reads: name and personal code.
func (t Chain) TellPerson(id shop.ID, person shop.PersonID) error {
	return t.told(Person, "shop = ? AND id = ?", id, person)
}

// TellAccounts adds how the accounts of a person, or of a chat, read.
func (t Chain) TellAccounts(id shop.ID, person shop.PersonID, chat string) error {
	return t.told(Account, "shop = ? AND (person = ? OR chat = ?)", id, person, chat)
}

// GoneAccounts adds that those of a person's accounts are gone that a condition
// picks, before they are.
func (t Chain) GoneAccounts(id shop.ID, person shop.PersonID, which string) error {
	var keys []string
	err := t.tx.Each("SELECT chat, mark FROM account WHERE shop = ? AND person = ? AND "+which,
		[]any{id, person}, func(row file.Scanner) error {
			var chat string
			var mark []byte
			err := row.Scan(&chat, &mark)
			keys = append(keys, accountKey(chat, mark))
			return err
		})
	for _, key := range keys {
		err = errors.Join(err, t.Tell(id, Account, key, nil))
	}
	return err
}

// TellCode adds how a code reads.
func (t Chain) TellCode(hash []byte) error { return t.told(Code, "hash = ?", hash) }

// TellCodes adds how the codes read that are of use to a person or given out by one.
func (t Chain) TellCodes(id shop.ID, person shop.PersonID) error {
	return t.told(Code, "shop = ? AND used = -1 AND (by_person = ? OR ? <> 0 AND person = ?)",
		id, person, person, person)
}

// TellPicture adds the digest of a photo's file.
func (t Chain) TellPicture(machine shop.MachineID, seq, n int64) error {
	return t.told(Picture, "p.machine = ? AND p.seq = ? AND p.n = ?", machine, seq, n)
}

// TellMonth adds a month that was finished.
func (t Chain) TellMonth(id shop.ID, month string) error {
	return t.told(Month, "shop = ? AND month = ?", id, month)
}

// TellAll adds all rows of a shop as they stand.
func (t Chain) TellAll(id shop.ID) error {
	if err := t.told(Settings, "shop = ? ORDER BY version", id); err != nil {
		return err
	}
	for _, kind := range []Kind{Person, Account, Code} {
		if err := t.told(kind, "shop = ?", id); err != nil {
			return err
		}
	}
	return t.told(Picture, "m.shop = ?", id)
}

// Untold lists the shops of which nothing was told yet.
func (t Chain) Untold() (list []shop.ID, err error) {
	err = t.tx.Each(`SELECT shop FROM (SELECT shop FROM settings UNION SELECT shop FROM code)
		WHERE shop NOT IN (SELECT shop FROM shop_entry) ORDER BY shop`, nil, func(row file.Scanner) error {
		var id shop.ID
		err := row.Scan(&id)
		list = append(list, id)
		return err
	})
	return list, err
}

func settingsRow(row file.Scanner) (r Row, err error) {
	var version int64
	var hash []byte
	err = row.Scan(&r.Shop, &version, &hash)
	r.Key, r.Digest = strconv.FormatInt(version, 10), hash
	return r, err
}

// digest is over columns and whether each is there.
func digest(columns ...[]byte) []byte {
	c := seal.New()
	for _, b := range columns {
		if b == nil {
			c.Number(0)
			continue
		}
		c.Number(1)
		c.Bytes(b)
	}
	return c.Sum()
}

func number(n int64) []byte { return []byte(strconv.FormatInt(n, 10)) }

func personRow(row file.Scanner) (r Row, err error) {
	var id int64
	var name, mark, salt, pin []byte
	err = row.Scan(&r.Shop, &id, &name, &mark, &salt, &pin)
	r.Key = strconv.FormatInt(id, 10)
	r.Digest = digest(number(id), name, mark, salt, pin)
	return r, err
}

func accountKey(chat string, mark []byte) string {
	return hex.EncodeToString(digest(mark, []byte(chat))[:16])
}

func accountRow(row file.Scanner) (r Row, err error) {
	var chat string
	var person, frozen, shared int64
	var mark []byte
	err = row.Scan(&r.Shop, &chat, &person, &frozen, &shared, &mark)
	r.Key = accountKey(chat, mark)
	r.Digest = digest([]byte(chat), number(person), number(frozen), number(shared), mark)
	return r, err
}

// codeRow leaves the name out, which goes when the code is used.
func codeRow(row file.Scanner) (r Row, err error) {
	var hash []byte
	var role string
	var person, by, expires, used int64
	err = row.Scan(&r.Shop, &hash, &person, &role, &by, &expires, &used)
	r.Key = hex.EncodeToString(hash)
	r.Digest = digest(hash, number(person), []byte(role), number(by), number(expires), number(used))
	return r, err
}

func monthRow(row file.Scanner) (r Row, err error) {
	var by, finished int64
	var upto []byte
	err = row.Scan(&r.Shop, &r.Key, &by, &finished, &upto)
	r.Digest = digest([]byte(r.Key), number(by), number(finished), upto)
	return r, err
}

func pictureRow(row file.Scanner) (r Row, err error) {
	var machine, seq, n int64
	var sum []byte
	err = row.Scan(&r.Shop, &machine, &seq, &n, &sum)
	r.Key = fmt.Sprintf("%d/%d/%d", machine, seq, n)
	r.Digest = digest(number(machine), number(seq), number(n), sum)
	return r, err
}
