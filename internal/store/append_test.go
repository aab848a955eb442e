package store_test

import (
	"strings"
	"testing"
)

// erase is all that may be done to an attachment.
const erase = "salt = NULL, words = NULL, photo = NULL, same = NULL"

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
		{"add a movement to an old entry", "INSERT INTO move VALUES (1, 1, 2, 0, 'cash', 'box:1', '50', 1)"},
		{"add one more to an old entry", "INSERT INTO move VALUES (1, 1, 1, 99, 'cash', 'box:1', '50', 1)"},
		{"add a movement to no entry", "INSERT INTO move VALUES (1, 1, 77, 0, 'cash', 'box:1', '50', 1)"},
		{"change words", "UPDATE attachment SET words = 'x' WHERE n = 0"},
		{"change words and erase their salt", "UPDATE attachment SET words = 'x', salt = NULL WHERE n = 0"},
		{"erase the salt alone", "UPDATE attachment SET salt = NULL"},
		{"change a digest while erasing", "UPDATE attachment SET digest = zeroblob(32), " + erase + " WHERE n = 0"},
		{"move an attachment while erasing", "UPDATE attachment SET seq = 1, " + erase + " WHERE n = 0"},
		{"number an attachment anew", "UPDATE attachment SET n = 5, " + erase + " WHERE n = 0"},
		{"move one to another machine", "UPDATE attachment SET machine = 2, " + erase + " WHERE n = 0"},
		{"delete an attachment", "DELETE FROM attachment"},
		{"add words to an old entry", "INSERT INTO attachment VALUES (1, 7, 2, zeroblob(32), NULL, 'x', NULL, " +
			"NULL)"},
		{"add words to no entry", "INSERT INTO attachment VALUES (1, 77, 0, zeroblob(32), NULL, 'x', NULL, NULL)"},
		{"replace an attachment", "INSERT OR REPLACE INTO attachment VALUES (1, 7, 0, zeroblob(32), NULL, 'x', " +
			"NULL, NULL)"},
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

// What came with the newest entry cannot be replaced either.
func TestNewestEntryIsAppendOnly(t *testing.T) {
	db, path := open(t)
	first := day()[0]
	first.Words = "counted twice"
	newLedger(t, db).post(first)
	for _, sql := range []string{
		"INSERT OR REPLACE INTO move VALUES (1, 1, 1, 0, 'bank', 'box:1', '50', 1)",
		"INSERT OR REPLACE INTO attachment VALUES (1, 1, 0, zeroblob(32), NULL, 'x', NULL, NULL)",
	} {
		if _, err := plain(t, path).Exec(sql); err == nil || !strings.Contains(err.Error(), "only added") {
			t.Errorf("%s: %v", sql, err)
		}
	}
	if faults := verify(t, path)[0].Faults; len(faults) > 0 {
		t.Errorf("faults: %q", faults)
	}
}
