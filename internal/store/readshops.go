package store

import (
	"context"
	"encoding/json"
	"fmt"
	"time"

	"shopfloat/internal/shop"
)

// Shops hands over the newest version of every shop, by number and without
// people's names, until fn fails.
func (r *Reader) Shops(ctx context.Context, fn func(*shop.Shop) error) error {
	rows, err := r.db.QueryContext(ctx, `SELECT shop, version, body FROM settings s
		WHERE version = (SELECT max(version) FROM settings WHERE shop = s.shop) ORDER BY shop`)
	if err != nil {
		return fmt.Errorf("shops: %w", err)
	}
	zones := map[string]*time.Location{} // shared: a zone's table is larger than the rest of a shop
	return drain(rows, func(row scanner) error {
		var id shop.ID
		var version int64
		var body []byte
		if err := row.Scan(&id, &version, &body); err != nil {
			return err
		}
		var settings shop.Settings
		if err := json.Unmarshal(body, &settings); err != nil {
			return fmt.Errorf("shop %d version %d: %w", id, version, err)
		}
		s, err := shop.New(id, version, settings)
		if err != nil {
			return err
		}
		if zone := zones[s.Zone]; zone != nil {
			s.Location = zone
		} else {
			zones[s.Zone] = s.Location
		}
		return fn(s)
	})
}
