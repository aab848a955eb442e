package people

import (
	"crypto/subtle"
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Code is a link that lets somebody in.
type Code struct {
	Hash    []byte // SHA-256 of the code
	Shop    shop.ID
	Person  shop.PersonID
	Role    shop.Role
	Name    string
	By      shop.PersonID
	Expires time.Time
	Used    bool
	Revoked bool
}

// codesKept is how long a code that is of no use any more is known, so that
// whoever opens it late can be told why.
const codesKept = 30 * 24 * time.Hour

// AddCode keeps a code, and forgets those long past.
func (t People) AddCode(c Code) error {
	before := file.Milli(t.tx.Now().Add(-codesKept))
	if err := t.tx.Exec("DELETE FROM code WHERE expires < ?", before); err != nil {
		return fmt.Errorf("codes: %w", err)
	}
	err := t.tx.Exec(
		`INSERT INTO code (hash, shop, person, role, name, by_person, expires) VALUES (?, ?, ?, ?, ?, ?, ?)`,
		c.Hash,
		c.Shop,
		c.Person,
		string(c.Role),
		c.Name,
		c.By,
		file.Milli(c.Expires),
	)
	if err != nil {
		return err
	}
	return t.told.TellCode(c.Hash)
}

// Code finds a code by its hash; file.ErrNone when there is none.
func (t People) Code(hash []byte) (c Code, err error) {
	var expires, used int64
	err = t.tx.One(
		"SELECT hash, shop, person, role, name, by_person, expires, used FROM code WHERE hash = ?",
		[]any{hash},
		&c.Hash,
		&c.Shop,
		&c.Person,
		&c.Role,
		&c.Name,
		&c.By,
		&expires,
		&used,
	)
	if err != nil {
		return c, err
	}
	if subtle.ConstantTimeCompare(c.Hash, hash) != 1 {
		return Code{}, file.ErrNone
	}
	c.Expires, c.Used, c.Revoked = file.Instant(expires), used > 0, used < 0
	return c, nil
}

// UseCode notes that a code let somebody in. The name goes: it stands with the
// person now, where it can be erased.
func (t People) UseCode(hash []byte) error {
	err := t.tx.Exec("UPDATE code SET used = ?, name = '' WHERE hash = ?", file.Milli(t.tx.Now()), hash)
	if err != nil {
		return err
	}
	return t.told.TellCode(hash)
}

// ReplaceCode puts the hash of another code in the place of one that nobody has
// been given yet; ok is false when it was taken back meanwhile.
func (t People) ReplaceCode(old, hash []byte) (ok bool, err error) {
	res, err := t.tx.Result("UPDATE code SET hash = ? WHERE hash = ? AND used = 0", hash, old)
	if err != nil {
		return false, fmt.Errorf("codes: %w", err)
	}
	if n, err := res.RowsAffected(); err != nil || n == 0 {
		return false, err
	}
	return true, t.told.TellCode(hash)
}

// RevokeCodes takes back the open links that a person gave out, or that lead to
// that person's own place; 0 stands for the program's own, of a shop or of none.
func (t People) RevokeCodes(id shop.ID, person shop.PersonID) error {
	err := t.tx.Exec(
		`UPDATE code SET used = -1, name = ''
		WHERE shop = ? AND used = 0 AND (by_person = ? OR ? <> 0 AND person = ?)`,
		id,
		person,
		person,
		person,
	)
	if err != nil {
		return err
	}
	return t.told.TellCodes(id, person)
}

// Attempts tells how many wrong codes somebody has given within a span of time.
func (t People) Attempts(who string, within time.Duration) (int64, error) {
	var since, n int64
	err := t.tx.One("SELECT since, n FROM attempt WHERE who = ?", []any{who}, &since, &n)
	past := t.tx.Now().Sub(file.Instant(since)) // less than none when the clock has been put right
	if errors.Is(err, file.ErrNone) || err == nil && (past < 0 || past >= within) {
		return 0, nil
	}
	return n, err
}

// CountAttempt counts one more wrong code; the span begins with the first.
func (t People) CountAttempt(who string, within time.Duration) error {
	return t.tx.Exec(`INSERT INTO attempt (who, since, n) VALUES (?1, ?2, 1) ON CONFLICT (who) DO UPDATE
		SET n = CASE WHEN ?2 - since NOT BETWEEN 0 AND ?3 - 1 THEN 1 ELSE n + 1 END,
			since = CASE WHEN ?2 - since NOT BETWEEN 0 AND ?3 - 1 THEN ?2 ELSE since END`,
		who, file.Milli(t.tx.Now()), within.Milliseconds())
}

// ForgetAttempts begins to count anew.
func (t People) ForgetAttempts(who string) error {
	return t.tx.Exec("DELETE FROM attempt WHERE who = ?", who)
}

// AnyShop says whether the file holds a shop.
func (t People) AnyShop() (bool, error) {
	var n int
	err := t.tx.One("SELECT count(*) FROM (SELECT 1 FROM settings LIMIT 1)", nil, &n)
	return n > 0, err
}
