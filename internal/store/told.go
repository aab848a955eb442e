package store

import (
	"context"

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
