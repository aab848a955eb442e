package store_test

import (
	"strings"
	"testing"

	"shopfloat/internal/store"
)

// Whoever edits a record and hashes it anew, alone or with all that follow,
// still leaves a trace. The first fault names it.
func TestVerifyForgedHashes(t *testing.T) {
	for _, c := range []struct {
		name, sql string
		from, to  int64
		want      string
	}{
		{"nothing", "", 1, 9, ""}, // the forger's hashes are right
		{"person, own hash", "UPDATE entry SET by_person = 3 WHERE seq = 4", 4, 4,
			"entry 5 does not follow entry 4"},
		{"recorded, own hash", "UPDATE entry SET recorded = recorded - 1 WHERE seq = 1", 1, 1,
			"entry 2 does not follow entry 1"},
		{"body, own hash", "UPDATE entry SET body = replace(body, '120', '121') WHERE seq = 6", 6, 6,
			"entry 7 does not follow entry 6"},
		{"prev, own hash", "UPDATE entry SET prev = zeroblob(32) WHERE seq = 9", 9, 9,
			"entry 9 does not follow entry 8"},
		{"first prev, all hashes", "UPDATE entry SET prev = randomblob(32) WHERE seq = 1", 1, 9,
			"entry 1 does not follow entry 0"},
		{"hash alone", "UPDATE entry SET hash = zeroblob(32) WHERE seq = 9", 0, 0, "entry 9 was changed"},
		{"an entry taken out", "DELETE FROM move WHERE seq = 6; DELETE FROM entry WHERE seq = 6", 0, 0,
			"entry 6 is missing"},
		{"kind, all hashes", "UPDATE entry SET kind = 'level' WHERE seq = 2", 2, 9, "entry 2: its kind"},
		{"period, all hashes", "UPDATE entry SET period = 2 WHERE seq = 2", 2, 9, "entry 2: its period"},
		{"time, all hashes", "UPDATE entry SET happened = happened - 1 WHERE seq = 3", 3, 9, "entry 3: its time"},
		{"move, all hashes", "UPDATE move SET notes = notes + 1 WHERE seq = 3", 3, 9, "entry 3: movement 0"},
		{"move gone, all hashes", "DELETE FROM move WHERE seq = 4", 4, 9, "entry 4: movement 0"},
		{"more notes added, all hashes", "UPDATE entry SET body = replace(body, '\"notes\":50', " +
			"'\"notes\":51') WHERE seq = 3",
			3, 9, "entry 3: movement 0"},
		{"a level, all hashes", "UPDATE entry SET body = replace(body, '\"notes\":120', '\"notes\":121') WHERE " +
			"seq = 6", 6, 9,
			"differ from the fold over 9"},
		{"an undo of nothing, all hashes", "UPDATE entry SET body = replace(body, '\"target\":4', " +
			"'\"target\":8') WHERE seq = 5",
			5, 9, "entry 5 cannot be"},
		{"body unreadable, all hashes", "UPDATE entry SET body = '{' WHERE seq = 2", 2, 9, "entry 2: "},
		{"digest, all hashes", "UPDATE entry SET digest = zeroblob(32) WHERE seq = 7", 7, 9,
			"attachments of entry 7"},
		{"digest where nothing was attached, all hashes", "UPDATE entry SET digest = zeroblob(32) WHERE seq = 3", 3,
			9,
			"attachments of entry 3"},
		{"words and their digest", "UPDATE attachment SET digest = zeroblob(32), salt = NULL, words = NULL " +
			"WHERE n = 0", 0, 0,
			"attachment 0 of entry 7 held was taken out"},
		{"settings of before, all hashes", "UPDATE entry SET settings = 0 WHERE seq = 3", 3, 9,
			"entry 3 names settings 0"},
		{"settings to come, all hashes", "UPDATE entry SET settings = 2 WHERE seq = 9", 9, 9,
			"entry 9 names settings 2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			other, path := tampered(t, c.sql)
			if c.to > 0 {
				ok(t, forge(other, c.from, c.to))
			}
			first(t, path, c.want)
		})
	}
}

// first checks the first fault that verify finds, guards left out.
func first(t *testing.T, path, want string) {
	t.Helper()
	got := "none"
	for _, f := range verify(t, path)[0].Faults {
		if !strings.Contains(f, "guard") {
			got = f
			break
		}
	}
	if want == "" && got != "none" || !strings.Contains(got, want) {
		t.Errorf("first fault %q, want %q", got, want)
	}
}

// A version of the settings that was edited and hashed anew breaks the next.
func TestVerifyForgedSettings(t *testing.T) {
	for _, c := range []struct{ name, sql, want string }{
		{"nothing", "", ""},
		{"body", "UPDATE settings SET body = replace(body, '40000', '90000') WHERE version = 1",
			"settings 2 of shop 1 were changed"},
		{"since", "UPDATE settings SET since = 7 WHERE version = 1", "settings 2 of shop 1 were changed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			db, path := open(t)
			within(t, db, morning, func(tx *store.Tx) {
				s, err := tx.Shop(1)
				ok(t, err)
				ok(t, tx.SaveSettings(1, s.Settings))
			})
			ok(t, db.Close())
			other := plain(t, path)
			_, err := other.Exec(dropTriggers + c.sql)
			ok(t, err)
			ok(t, forgeSettings(other, 1))
			first(t, path, c.want)
		})
	}
}

// Records of a machine that is nowhere else are found by each kind of record.
func TestVerifyStrayMachine(t *testing.T) {
	for name, sql := range map[string]string{
		"entry": `INSERT INTO entry VALUES (5, 1, 1, 'level', 1, 1, 0, 0, 99, 0, '{}', NULL, zeroblob(32), ` +
			`zeroblob(32))`,
		"move":  `INSERT INTO move VALUES (5, 1, 1, 0, 'cash', 'box:1', '50', 1)`,
		"words": `INSERT INTO attachment VALUES (5, 1, 0, zeroblob(32), NULL, 'x', NULL, NULL)`,
	} {
		t.Run(name, func(t *testing.T) {
			db, path := open(t)
			ok(t, db.Close())
			_, err := plain(t, path).Exec(dropTriggers + sql)
			ok(t, err)
			reports := verify(t, path)
			if len(reports) != 2 || reports[1].Machine != 5 || len(reports[1].Faults) == 0 {
				t.Errorf("reports %+v", reports)
			}
		})
	}
}

// Settings that cannot be read are one fault; who is in them is not known, so
// their people are not called strangers.
func TestVerifyUnreadableSettingsOnce(t *testing.T) {
	db, path := open(t)
	ok(t, db.Close())
	_, err := plain(t, path).Exec(dropTriggers + "UPDATE settings SET body = '{}'")
	ok(t, err)
	if all := strings.Join(verify(t, path)[0].Faults, "; "); strings.Contains(all, "belongs to nobody") {
		t.Errorf("faults %q", all)
	}
}
