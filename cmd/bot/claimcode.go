package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"shopfloat/internal/desk"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// claimLife is how long a set-up code is good.
const claimLife = 24 * time.Hour

// claimCodeCmd prints a code for an owner who is locked out, or for the first
// owner of a file without a shop.
type claimCodeCmd struct {
	DB   string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file to write to."`
	Shop int64  `placeholder:"NUMBER" help:"Which shop, when there are several; they are numbered from 1."`
	New  bool   `help:"For one more shop of its own."`
	Lost bool   `help:"Cut the owner's lost phone off at once."`
}

// Run draws the code. Earlier ones for the same shop lapse, and when it is
// used the owner's old phone is cut off.
func (c *claimCodeCmd) Run(e *env) error {
	if _, err := os.Stat(c.DB); err != nil {
		return misuse(fmt.Errorf("claim-code: %w; the bot makes the file when it starts", err))
	}
	now := time.Now()
	db, err := store.Open(e.ctx, c.DB, now)
	if err != nil {
		return err
	}
	code, err := c.draw(db, now)
	if err = errors.Join(err, db.Close()); err != nil {
		return err
	}
	_, err = fmt.Fprintf(e.stdout, "Set-up code: %s\n"+
		"It works once, within a day. Send this to the bot: /start %s\n", code, code)
	return err
}

func (c *claimCodeCmd) draw(db *store.DB, now time.Time) (code string, err error) {
	tx, err := db.Begin(now)
	if err != nil {
		return "", err
	}
	id, owner, err := c.owner(tx)
	if err == nil && c.Lost {
		err = tx.Freeze(id, owner, true)
	}
	if err == nil {
		code, err = claim(tx, id, owner, rand.Reader)
	}
	if err != nil {
		tx.Rollback()
		return "", err
	}
	return code, tx.Commit()
}

// owner finds whose place the code is for: the first owner of the shop.
func (c *claimCodeCmd) owner(tx *store.Tx) (shop.ID, shop.PersonID, error) {
	any, err := tx.AnyShop()
	if err != nil || !any || c.New {
		return 0, 0, err
	}
	id := shop.ID(c.Shop)
	next, err := tx.NewShop()
	switch {
	case err != nil:
		return 0, 0, err
	case id == 0 && next == 2:
		id = 1
	case id <= 0 || id >= next:
		return 0, 0, misuse(fmt.Errorf("--shop: say which, from 1 to %d", next-1))
	}
	s, err := tx.Shop(id)
	if err != nil {
		return 0, 0, err
	}
	for _, p := range s.People {
		if p.Role == shop.Owner {
			return id, p.ID, nil
		}
	}
	return 0, 0, fmt.Errorf("shop %d has no owner", id)
}

// claim draws a code and keeps what is kept of it.
func claim(tx *store.Tx, id shop.ID, owner shop.PersonID, random io.Reader) (string, error) {
	code, hash, err := desk.NewCode(random)
	if err != nil {
		return "", err
	}
	return code, desk.Claim(tx, id, owner, claimLife, hash)
}

// claimEmpty draws a code for a file without a shop; "" when there is one.
func claimEmpty(db *store.DB, now time.Time, random io.Reader) (code string, err error) {
	tx, err := db.Begin(now)
	if err != nil {
		return "", err
	}
	any, err := tx.AnyShop()
	if err == nil && !any {
		code, err = claim(tx, 0, 0, random)
	}
	if err != nil || any {
		tx.Rollback()
		return "", err
	}
	return code, tx.Commit()
}
