package store

import (
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// Bounds of what is kept at hand, so that two thousand busy shops fit into
// little memory. A map that is full starts again empty: what is used comes back
// by itself. A machine's books are large and quick to read again; a shop is
// small and slow, for its zone.
const (
	keepSmall    = 4096
	keepMachines = 256
)

// cache holds what the last transactions read and wrote. It is dropped as a
// whole whenever something is taken back.
type cache struct {
	accounts map[chat.Chat]Account
	teams    map[shop.ID][]Account
	shops    map[shop.ID]*shop.Shop
	zones    map[string]*time.Location
	chats    map[chat.Chat]*chatRow
	machines map[shop.MachineID]*machineRow
	underway map[shop.MachineID][]chat.Activity
	cards    map[chat.Chat]map[string]int64 // newest row of the outbox by chat and key
}

func (c *cache) drop() { *c = cache{zones: c.zones} }

// keep puts a value into a map that holds at most limit.
func keep[K comparable, V any](m *map[K]V, limit int, k K, v V) {
	if *m == nil {
		*m = map[K]V{}
	}
	if _, have := (*m)[k]; !have && len(*m) >= limit {
		clear(*m)
	}
	(*m)[k] = v
}
