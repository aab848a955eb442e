package store_test

import (
	"database/sql"
	"strings"
	"testing"
)

func TestVerifyWholeDay(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	reports := verify(t, path)
	rep := reports[0]
	if len(reports) != 1 || len(rep.Faults) > 0 || rep.Entries != len(day()) || rep.Moves == 0 {
		t.Errorf("reports: %+v", reports)
	}
}

// dropTriggers is what somebody who wants to cheat would do first.
const dropTriggers = `PRAGMA foreign_keys = OFF;
	DROP TRIGGER entry_update; DROP TRIGGER entry_delete; DROP TRIGGER entry_insert;
	DROP TRIGGER move_update; DROP TRIGGER move_delete; DROP TRIGGER move_insert;
	DROP TRIGGER attachment_update; DROP TRIGGER attachment_delete; DROP TRIGGER attachment_insert;
	DROP TRIGGER settings_update; DROP TRIGGER settings_delete; DROP TRIGGER settings_insert;`

func TestVerifyNamesTheRecord(t *testing.T) {
	for _, c := range []struct{ name, sql, want string }{
		{"entry kind", "UPDATE entry SET kind = 'level' WHERE seq = 3", "entry 3"},
		{"entry body", "UPDATE entry SET body = replace(body, '200', '201') WHERE seq = 1", "entry 1"},
		{"entry time", "UPDATE entry SET happened = happened - 1 WHERE seq = 2", "entry 2"},
		{"entry recorded", "UPDATE entry SET recorded = recorded - 60000 WHERE seq = 2", "entry 2"},
		{"entry person", "UPDATE entry SET by_person = 3 WHERE seq = 7", "entry 7"},
		{"entry settings", "UPDATE entry SET settings = 2 WHERE seq = 7", "entry 7"},
		{"entry cause", "UPDATE entry SET cause = 99 WHERE seq = 6", "entry 6"},
		{"entry period", "UPDATE entry SET period = 2 WHERE seq = 6", "entry 6"},
		{"entry digest", "UPDATE entry SET digest = zeroblob(32) WHERE seq = 7", "entry 7"},
		{"entry prev", "UPDATE entry SET prev = zeroblob(32) WHERE seq = 6", "entry 6"},
		{"entry hash", "UPDATE entry SET hash = zeroblob(32) WHERE seq = 6", "entry 6"},
		{"entry missing", "DELETE FROM entry WHERE seq = 6", "entry 6 is missing"},
		{"first entry missing", "DELETE FROM move WHERE seq = 1; DELETE FROM entry WHERE seq = 1",
			"entry 1 is missing"},
		{"tail cut", "DELETE FROM move WHERE seq = 9; DELETE FROM entry WHERE seq = 9", "stand at entry 9"},
		{"cause twice", "DROP INDEX entry_cause; UPDATE entry SET cause = 1 WHERE seq = 2",
			"entry 2 has the cause 1, as entry 1 of machine 1 has"},
		{"move notes", "UPDATE move SET notes = notes + 1 WHERE seq = 1 AND n = 1", "entry 1: movement 1"},
		{"move face", "UPDATE move SET face = '50' WHERE seq = 3", "entry 3: movement 0"},
		{"move ends", "UPDATE move SET from_place = 'bank' WHERE seq = 3", "entry 3: movement 0"},
		{"move period", "UPDATE move SET period = 9 WHERE seq = 3", "of entry 3 in period 9 belongs nowhere"},
		{"move missing", "DELETE FROM move WHERE seq = 3", "entry 3: movement 0"},
		{"move added", "INSERT INTO move VALUES (1, 1, 2, 0, 'cash', 'box:1', '50', 1)", "entry 2: movement 0"},
		{"move without entry", "INSERT INTO move VALUES (1, 1, 77, 0, 'cash', 'box:1', '50', 1)",
			"of entry 77"},
		{"words changed", "UPDATE attachment SET words = 'nothing' WHERE n = 0", "attachment 0 of entry 7"},
		{"photo changed", "UPDATE attachment SET photo = 'file-2' WHERE n = 1", "attachment 1 of entry 7"},
		{"salt changed", "UPDATE attachment SET salt = zeroblob(16) WHERE n = 0", "attachment 0 of entry 7"},
		{"sameness changed", "UPDATE attachment SET same = 'two' WHERE n = 1", "attachment 1 of entry 7"},
		{"move numbered anew", "UPDATE move SET n = 9 WHERE seq = 1 AND n = 2", "movement 9 of entry 1"},
		{"words without their salt", "UPDATE attachment SET words = 'nothing', salt = NULL WHERE n = 0",
			"attachment 0 of entry 7"},
		{"photo without its salt", "UPDATE attachment SET photo = 'file-2', same = NULL, salt = NULL WHERE n = 1",
			"attachment 1 of entry 7"},
		{"the sameness of a photo left", "UPDATE attachment SET photo = NULL, salt = NULL WHERE n = 1",
			"attachment 1 of entry 7"},
		{"attachment missing", "DELETE FROM attachment WHERE n = 1", "attachments of entry 7"},
		{"attachment added", "INSERT INTO attachment VALUES (1, 3, 0, zeroblob(32), NULL, NULL, NULL, NULL)",
			"attachments of entry 3"},
		{"attachment without entry",
			"INSERT INTO attachment VALUES (1, 77, 0, zeroblob(32), NULL, NULL, NULL, NULL)", "entry 77"},
		{"books body", "UPDATE machine SET body = replace(body, '\"seq\":9', '\"seq\":8')",
			"differ from the fold over 9"},
		{"books seq", "UPDATE machine SET seq = 8", "stand at entry 8"},
		{"books head", "UPDATE machine SET head = zeroblob(32)", "another entry 9"},
		{"books missing", "DELETE FROM machine", "own row is missing"},
		{"books of another shop", "UPDATE machine SET shop = 2", "settings of shop 2 name no machine 1"},
		{"settings body", "UPDATE settings SET body = replace(body, '40000', '90000')",
			"settings 1 of shop 1 were changed"},
		{"settings since", "UPDATE settings SET since = 0", "settings 1 of shop 1 were changed"},
		{"settings unreadable", "UPDATE settings SET body = '{}'", "settings 1 of shop 1 cannot be read"},
		{"settings missing", "UPDATE settings SET version = 2", "settings 1 of shop 1 are missing"},
		{"account", "UPDATE account SET person = 9 WHERE person = 2", "person 9"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, path := tampered(t, c.sql)
			reports := verify(t, path)
			if len(reports) != 1 || !strings.Contains(strings.Join(reports[0].Faults, "\n"), c.want) {
				t.Errorf("want %q in the report, got %+v", c.want, reports)
			}
		})
	}
}

// tampered is the file of a day, changed from outside with no guard left.
func tampered(t *testing.T, change string) (other *sql.DB, path string) {
	t.Helper()
	db, path := open(t)
	newLedger(t, db).post(day()...)
	ok(t, db.Close())
	other = plain(t, path)
	_, err := other.Exec(dropTriggers + change)
	ok(t, err)
	return other, path
}

// What somebody wrote can be erased and the ledger holds together without it, but it
// is said that it is gone: nobody takes words away unseen.
func TestVerifyAfterErasing(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	_, err := plain(t, path).Exec("UPDATE attachment SET " + erase + " WHERE n = 0")
	ok(t, err)
	const want = "what attachment 0 of entry 7 held was taken out of the file"
	if got := verify(t, path)[0].Faults; len(got) != 1 || got[0] != want {
		t.Errorf("faults after erasing: %q", got)
	}
}
