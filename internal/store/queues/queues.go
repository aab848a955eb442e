// Package queues keeps what comes in and what goes out, once each: the inbox,
// the outbox, the deadlines, and the dialog that is under way in each chat.
package queues

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Cache holds what the last transactions read and wrote.
type Cache struct {
	chats    map[chat.Chat]*chatRow
	underway map[shop.MachineID][]chat.Activity
	cards    map[chat.Chat]map[string]int64 // newest row of the outbox by chat and key
}

// Forget drops all of it.
func (c *Cache) Forget() { *c = Cache{} }

// Queues is what comes in and goes out within one transaction.
type Queues struct {
	tx *file.Tx
	at *Cache
}

// In gives them within a transaction.
func In(tx *file.Tx, at *Cache) Queues { return Queues{tx, at} }
