package store

import (
	"context"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// Word gives the check word of a machine's last entry.
func (r *Reader) Word(ctx context.Context, id shop.MachineID) (string, error) {
	var head []byte
	err := r.file.One(ctx, "SELECT head FROM machine WHERE id = ?", []any{id}, &head)
	return CheckWord(head), err
}

// Names gives the names of a shop's people as they are now; one that was erased
// is not among them.
func (r *Reader) Names(ctx context.Context, id shop.ID) (map[shop.PersonID]string, error) {
	names := map[shop.PersonID]string{}
	err := r.file.Each(ctx, "SELECT id, name FROM person WHERE shop = ? AND name IS NOT NULL", []any{id},
		func(row file.Scanner) error {
			var person shop.PersonID
			var name string
			err := row.Scan(&person, &name)
			names[person] = name
			return err
		})
	return names, err
}

// Phone is a chat of somebody who works in a shop, with what they are called there.
type Phone struct {
	Chat chat.Chat
	Name string
	Role shop.Role
	Shop string
}

// Phones lists all phones of all shops that are not frozen.
func (r *Reader) Phones(ctx context.Context) (list []Phone, err error) {
	var shops []*shop.Shop
	if err := r.Shops(ctx, func(s *shop.Shop) error { shops = append(shops, s); return nil }); err != nil {
		return nil, err
	}
	for _, s := range shops {
		names, err := r.Names(ctx, s.ID)
		if err != nil {
			return nil, err
		}
		members, err := r.Members(ctx, s)
		if err != nil {
			return nil, err
		}
		for _, m := range members {
			if p, ok := s.Person(m.Person); ok {
				list = append(list, Phone{Chat: m.Chat, Name: names[p.ID], Role: p.Role, Shop: s.Name})
			}
		}
	}
	return list, nil
}
