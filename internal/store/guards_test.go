package store_test

import (
	"strings"
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/store"
)

// Whoever drops a guard can rewrite records with their hashes, so a lost one is
// a fault even while every hash matches; so is an account that leads nowhere.
func TestVerifyTheFile(t *testing.T) {
	for _, c := range []struct{ name, sql, want string }{
		{"guard", "DROP TRIGGER move_update", "lost its guard move_update"},
		{"guard of settings", "DROP TRIGGER settings_delete", "lost its guard settings_delete"},
		{"guard of words", "DROP TRIGGER attachment_update", "lost its guard attachment_update"},
		{"emptied guard", "DROP TRIGGER entry_update; CREATE TRIGGER entry_update BEFORE UPDATE ON entry WHEN " +
			"0 BEGIN " +
			"SELECT RAISE(ABORT, 'entries are never changed'); END", "guard entry_update reads differently"},
		{"guard of another table", "DROP TRIGGER entry_delete; CREATE TRIGGER entry_delete BEFORE DELETE ON " +
			"chat BEGIN " +
			"SELECT RAISE(ABORT, 'entries are never deleted'); END", "guard entry_delete reads differently"},
		{"stranger", "CREATE TRIGGER extra BEFORE INSERT ON entry BEGIN SELECT RAISE(IGNORE); END",
			"trigger extra that is not shopfloat's"},
		{"settings", "DROP TRIGGER settings_delete; DELETE FROM settings WHERE version = 2",
			"entry 10 names settings 2 of shop 1, which are not there"},
		{"person", "UPDATE account SET person = 99", "belongs to nobody: person 99"},
		{"shop", "INSERT INTO account (chat, shop, person) VALUES ('term:x', 77, 1)",
			"account of shop 77 belongs to nobody"},
	} {
		t.Run(c.name, func(t *testing.T) {
			db, path := open(t)
			l := newLedger(t, db)
			l.post(day()...)
			within(t, db, l.now, func(tx *store.Tx) {
				s, err := tx.Shop(1)
				ok(t, err)
				ok(t, tx.SaveSettings(1, s.Settings))
			})
			l.settings = 2
			l.post(books.Record{Kind: books.Attachment, Words: "after the change"})
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
