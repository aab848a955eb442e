package store

import (
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// seedBatch is how many shops are added in one transaction.
const seedBatch = 500

// ExampleAccounts names the chats from which the example shop's people write;
// an empty one has none.
type ExampleAccounts struct{ Owner, Staff1, Staff2 chat.Chat }

// Seed adds an example shop for each set of accounts, dated now. People's
// numbers come from random. Shops before the one that fails may stay.
func (db *DB) Seed(ctx context.Context, random io.Reader, now time.Time, list []ExampleAccounts) error {
	for len(list) > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		n := min(len(list), seedBatch)
		shops := make([]NewShop, 0, n)
		for _, a := range list[:n] {
			s, err := example(random, a)
			if err != nil {
				return err
			}
			shops = append(shops, s)
		}
		if _, err := db.AddShops(now, shops); err != nil {
			return fmt.Errorf("example shop: %w", err)
		}
		list = list[n:]
	}
	return nil
}

func example(random io.Reader, a ExampleAccounts) (NewShop, error) {
	var ids [3]shop.PersonID
	for i := range ids {
		id, err := NewPersonID(random)
		if err != nil {
			return NewShop{}, err
		}
		ids[i] = id
	}
	s := NewShop{
		Settings: shop.ExampleWith(ids[0], ids[1], ids[2]),
		Accounts: map[chat.Chat]shop.PersonID{},
	}
	for i, where := range []chat.Chat{a.Owner, a.Staff1, a.Staff2} {
		if where != "" {
			s.Accounts[where] = ids[i]
		}
	}
	return s, nil
}

// NewPersonID draws a number that stands for a person: above 0 and below
// 2^53, which every reader of JSON takes as it is.
func NewPersonID(random io.Reader) (shop.PersonID, error) {
	var b [8]byte
	if _, err := io.ReadFull(random, b[:]); err != nil {
		return 0, fmt.Errorf("random number: %w", err)
	}
	return shop.PersonID(binary.BigEndian.Uint64(b[:])>>11 | 1), nil
}
