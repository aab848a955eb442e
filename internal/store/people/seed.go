package people

import (
	"encoding/binary"
	"fmt"
	"io"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// ExampleAccounts names the chats from which the example shop's people write;
// an empty one has none.
type ExampleAccounts struct{ Owner, Staff1, Staff2 chat.Chat }

// Example gives the example shop for a set of accounts; people's numbers come from random.
func Example(random io.Reader, a ExampleAccounts) (NewShop, error) {
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
