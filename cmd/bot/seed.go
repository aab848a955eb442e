package main

import (
	"crypto/rand"
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// Bounds of what can be seeded.
const (
	firstSeeded = 1_000_000 // shop i belongs to the user of this number and i
	shopsMax    = 1_000_000
)

// seedCmd writes example shops.
type seedCmd struct {
	Shops int    `placeholder:"N" help:"Write this many example shops; shop i belongs to user 1000000+i."`
	Owner int64  `placeholder:"USER" help:"Write one example shop for this Telegram user."`
	DB    string `arg:"env:SHOPFLOAT_DB" default:"shopfloat.db" placeholder:"FILE" help:"The file."`
}

// Run adds the shops to the file, which no bot may be using meanwhile.
func (c *seedCmd) Run(e *env) error {
	accounts, err := c.accounts()
	if err != nil {
		return misuse(err)
	}
	now := time.Now()
	db, err := store.Open(e.ctx, c.DB, now)
	if err != nil {
		return err
	}
	err = errors.Join(db.Seed(e.ctx, rand.Reader, now, accounts), db.Close())
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(e.stdout, "example shops written: %d\n", len(accounts))
	return err
}

func (c *seedCmd) accounts() ([]store.ExampleAccounts, error) {
	switch {
	case c.Owner > 0 && c.Shops == 0:
		return []store.ExampleAccounts{{Owner: telegramChat(c.Owner)}}, nil
	case c.Owner == 0 && c.Shops > 0 && c.Shops <= shopsMax:
		list := make([]store.ExampleAccounts, c.Shops)
		for i := range list {
			list[i].Owner = telegramChat(firstSeeded + int64(i) + 1)
		}
		return list, nil
	}
	return nil, fmt.Errorf("say --shops and a number up to %d, or --owner and a user's number, not both",
		shopsMax)
}

func telegramChat(user int64) chat.Chat { return chat.Chat(fmt.Sprintf("tg:%d", user)) }
