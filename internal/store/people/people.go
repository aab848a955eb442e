// Package people keeps who may write from where and what the shops have laid
// down: versions of settings, names and personal codes, accounts, links that
// let somebody in.
package people

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/chain"
	"shopfloat/internal/store/file"
)

// Cache holds what the last transactions read and wrote.
type Cache struct {
	accounts map[chat.Chat]Account
	teams    map[shop.ID][]Account
	shops    map[shop.ID]*shop.Shop
}

// Forget drops all of it.
func (c *Cache) Forget() { *c = Cache{} }

// People is who may write and what was laid down, within one transaction.
type People struct {
	tx   *file.Tx
	at   *Cache
	told chain.Chain
}

// In gives them within a transaction; what changes is told to a chain.
func In(tx *file.Tx, at *Cache, told chain.Chain) People { return People{tx, at, told} }
