package store_test

import (
	"strings"
	"testing"
)

// The ledger takes nothing back, whatever program asks, in any of the ways in
// which SQLite can change a row.
func TestLedgerIsAppendOnly(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	other := plain(t, path)
	const entry = `(machine, seq, period, kind, by_person, settings, happened, recorded, cause, cause_n,
		body, prev, hash)`
	const values = `'level', 1, 1, 0, 0, %CAUSE%, 0, '{}', zeroblob(32), zeroblob(32))`
	forged := func(seq, cause string) string {
		return entry + " VALUES (1, " + seq + ", 1, " + strings.Replace(values, "%CAUSE%", cause, 1)
	}
	const move = "move VALUES (1, 1, 1, 0, 'bank', 'box:1', '50', 1)"
	const settings = "settings VALUES (1, 1, 0, '{}', zeroblob(32))"
	for _, c := range []struct{ name, sql string }{
		{"update an entry", "UPDATE entry SET kind = 'level' WHERE seq = 1"},
		{"update or replace an entry", "UPDATE OR REPLACE entry SET seq = 2 WHERE seq = 1"},
		{"delete an entry", "DELETE FROM entry WHERE seq = 9"},
		{"delete all entries", "DELETE FROM entry"},
		{"replace an entry", "INSERT OR REPLACE INTO entry " + forged("9", "100")},
		{"replace an entry by its cause", "INSERT OR REPLACE INTO entry " + forged("10", "9")},
		{"upsert an entry", "INSERT INTO entry " + forged("9", "100") +
			" ON CONFLICT (machine, seq) DO UPDATE SET kind = 'level'"},
		{"upsert an entry by its cause", "INSERT INTO entry " + forged("10", "9") +
			" ON CONFLICT (cause, cause_n) DO UPDATE SET kind = 'level'"},
		{"leave a gap", "INSERT INTO entry " + forged("12", "100")},
		{"insert in front", "INSERT INTO entry " + forged("0", "100")},
		{"update a movement", "UPDATE move SET notes = 1"},
		{"delete a movement", "DELETE FROM move WHERE seq = 1"},
		{"replace a movement", "INSERT OR REPLACE INTO " + move},
		{"upsert a movement", "INSERT INTO " + move +
			" ON CONFLICT (machine, period, seq, n) DO UPDATE SET notes = 1"},
		{"update settings", "UPDATE settings SET body = '{}'"},
		{"delete settings", "DELETE FROM settings"},
		{"replace settings", "INSERT OR REPLACE INTO " + settings},
		{"upsert settings", "INSERT INTO " + settings +
			" ON CONFLICT (shop, version) DO UPDATE SET since = 0"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := other.Exec(c.sql); err == nil {
				t.Error("taken without an error")
			} else if s := err.Error(); !strings.Contains(s, "never") && !strings.Contains(s, "only added") {
				t.Errorf("refused for another reason: %v", err)
			}
		})
	}
	// An insert that may be ignored is no way round either: it changes nothing.
	for _, row := range []string{"entry " + forged("9", "100"), move} {
		sql := "INSERT OR IGNORE INTO " + row
		if _, err := other.Exec(sql); err == nil {
			t.Errorf("%s was taken", sql)
		}
	}
	if reports := verify(t, path); len(reports[0].Faults) > 0 || reports[0].Entries != len(day()) {
		t.Errorf("after all attempts: %+v", reports)
	}
}
