package people

import (
	"errors"
	"fmt"

	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
)

// TellAll tells the chain all of a shop of which nothing was told yet: it is
// from before there was one. Names and accounts get their salts.
func (t People) TellAll(id shop.ID) error {
	for _, table := range []struct{ key, name string }{{"id", "person"}, {"chat", "account"}} {
		var keys []any
		err := t.tx.Each("SELECT "+table.key+" FROM "+table.name+" WHERE shop = ? AND mark IS NULL", []any{id},
			func(row file.Scanner) error {
				var key any
				err := row.Scan(&key)
				keys = append(keys, key)
				return err
			})
		for _, key := range keys {
			mark, bad := t.told.Salt()
			err = errors.Join(err, bad, t.tx.Exec(
				"UPDATE "+table.name+" SET mark = ? WHERE shop = ? AND "+table.key+" = ?", mark, id, key))
		}
		if err != nil {
			return fmt.Errorf("shop %d: %w", id, err)
		}
	}
	return t.told.TellAll(id)
}
