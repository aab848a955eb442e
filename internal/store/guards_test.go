package store_test

import (
	"strings"
	"testing"
)

// Whoever drops a guard can rewrite records with their hashes, so a lost one is
// a fault even while every hash matches; so is an account that leads nowhere.
func TestVerifyTheFile(t *testing.T) {
	for _, c := range []struct{ name, sql, want string }{
		{"guard", "DROP TRIGGER move_update", "lost its guard move_update"},
		{"guard of settings", "DROP TRIGGER settings_delete", "lost its guard settings_delete"},
		{"person", "UPDATE account SET person = 99", "belongs to nobody: person 99"},
		{"shop", "INSERT INTO account (chat, shop, person) VALUES ('term:x', 77, 1)", "account of shop 77 belongs to nobody"},
	} {
		t.Run(c.name, func(t *testing.T) {
			db, path := open(t)
			newLedger(t, db).post(day()...)
			ok(t, db.Close())
			_, err := plain(t, path).Exec("PRAGMA foreign_keys = OFF; " + c.sql)
			ok(t, err)
			reports := verify(t, path)
			if all := strings.Join(reports[0].Faults, "\n"); !strings.Contains(all, c.want) {
				t.Errorf("faults %q, want %q", all, c.want)
			}
		})
	}
}
