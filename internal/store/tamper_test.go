package store_test

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// rich makes a file that has a row in every table that is proved: a day with words
// and photos, one of them fetched, two versions of the settings, personal codes, a
// link, a dialog under way.
func rich(t *testing.T) string {
	t.Helper()
	db, path := open(t)
	l := newLedger(t, db)
	l.post(day()...)
	l.post(books.Record{Kind: books.Attachment, Photos: []books.Photo{{ID: "file-9", Unique: "nine"}}})
	digest, err := store.SavePicture(store.Pictures(path), []byte("slip"))
	ok(t, err)
	keep(t, db, unfetched(t, db)[0], digest)
	within(t, db, l.now, func(tx *store.Tx) {
		s, err := tx.Shop(1)
		ok(t, err)
		next := s.Settings
		next.CreditDays = 2
		ok(t, tx.SaveSettings(1, next))
		ok(t, tx.FinishMonth(owner, 1, "2025-12"))
		ok(t, tx.SetPIN(1, 2, []byte("salt"), []byte("what is left of a code")))
		ok(t, tx.AddCode(store.Code{Hash: slices.Repeat([]byte{7}, 32), Shop: 1, Role: "staff", Name: "Dora",
			By: 1, Expires: l.now.Add(time.Hour)}))
		ok(t, tx.SaveState(owner, 1, chat.State{V: chat.StateFormat, Flow: "opening", Works: true,
			Machine: 1, Since: l.now}))
	})
	ok(t, db.Close())
	return path
}

type tampering struct{ field, sql, want string }

// tamperings change one field each of what is chained, or rebuilt and compared: by
// table and column, with the sentence that names it.
var tamperings = []tampering{
	{"entry.machine", "UPDATE entry SET machine = 9 WHERE seq = 6", "entry 6 is missing"},
	{"entry.seq", "UPDATE entry SET seq = 60 WHERE seq = 6", "entry 6 is missing"},
	{"entry.period", "UPDATE entry SET period = 2 WHERE seq = 6",
		"entry 6 was changed: its hash does not match"},
	{"entry.kind", "UPDATE entry SET kind = 'spot' WHERE seq = 6", "entry 6 was changed"},
	{"entry.by_person", "UPDATE entry SET by_person = 3 WHERE seq = 7", "entry 7 was changed"},
	{"entry.settings", "UPDATE entry SET settings = 2 WHERE seq = 7", "entry 7 was changed"},
	{"entry.happened", "UPDATE entry SET happened = happened - 1 WHERE seq = 2", "entry 2 was changed"},
	{"entry.recorded", "UPDATE entry SET recorded = recorded - 1 WHERE seq = 2", "entry 2 was changed"},
	{"entry.cause", "UPDATE entry SET cause = 99 WHERE seq = 6", "entry 6 was changed"},
	{"entry.cause_n", "UPDATE entry SET cause_n = 9 WHERE seq = 6", "entry 6 was changed"},
	{"entry.body", "UPDATE entry SET body = replace(body, '200', '201') WHERE seq = 1",
		"entry 1 was changed"},
	{"entry.digest", "UPDATE entry SET digest = zeroblob(32) WHERE seq = 7", "entry 7 was changed"},
	{"entry.prev", "UPDATE entry SET prev = zeroblob(32) WHERE seq = 6", "entry 6 does not follow entry 5"},
	{"entry.hash", "UPDATE entry SET hash = zeroblob(32) WHERE seq = 6", "entry 6 was changed"},
	{"move.machine", "UPDATE move SET machine = 9 WHERE seq = 3", "entry 3 was changed"},
	{"move.period", "UPDATE move SET period = 9 WHERE seq = 3", "of entry 3 in period 9 belongs nowhere"},
	{"move.seq", "UPDATE move SET seq = 77 WHERE seq = 3",
		"movement 0 of entry 77 in period 1 belongs nowhere"},
	{"move.n", "UPDATE move SET n = 9 WHERE seq = 1 AND n = 2", "movement 9 of entry 1"},
	{"move.from_place", "UPDATE move SET from_place = 'bank' WHERE seq = 3", "entry 3 was changed"},
	{"move.to_place", "UPDATE move SET to_place = 'bank' WHERE seq = 3", "entry 3 was changed"},
	{"move.face", "UPDATE move SET face = '50' WHERE seq = 3", "entry 3 was changed"},
	{"move.notes", "UPDATE move SET notes = notes + 1 WHERE seq = 3", "entry 3 was changed"},
	{"attachment.machine", "UPDATE attachment SET machine = 9 WHERE seq = 7 AND n = 0",
		"the attachments of entry 7 are not those"},
	{"attachment.seq", "UPDATE attachment SET seq = 8 WHERE seq = 7 AND n = 0",
		"the attachments of entry 7 are not those"},
	{"attachment.n", "UPDATE attachment SET n = 5 WHERE seq = 7 AND n = 0",
		"the attachments of entry 7 are not those"},
	{"attachment.digest", "UPDATE attachment SET digest = zeroblob(32) WHERE n = 0 AND seq = 7",
		"attachment 0 of entry 7 was changed"},
	{"attachment.salt", "UPDATE attachment SET salt = zeroblob(16) WHERE n = 0 AND seq = 7",
		"attachment 0 of entry 7 was changed"},
	{"attachment.words", "UPDATE attachment SET words = 'nothing' WHERE n = 0 AND seq = 7",
		"attachment 0 of entry 7 was changed"},
	{"attachment.words", "UPDATE attachment SET words = NULL, salt = NULL WHERE n = 0 AND seq = 7",
		"what attachment 0 of entry 7 held was taken out"},
	{"attachment.photo", "UPDATE attachment SET photo = 'file-2' WHERE seq = 7 AND n = 1",
		"attachment 1 of entry 7 was changed"},
	{"attachment.same", "UPDATE attachment SET same = 'two' WHERE seq = 7 AND n = 1",
		"attachment 1 of entry 7 was changed"},
	{"settings.shop", "UPDATE settings SET shop = 4 WHERE version = 2", "settings 2 of shop 1 is missing"},
	{"settings.version", "UPDATE settings SET version = 3 WHERE version = 2",
		"settings 2 of shop 1 are missing"},
	{"settings.since", "UPDATE settings SET since = since + 1 WHERE version = 2",
		"settings 2 of shop 1 were changed"},
	{"settings.body", "UPDATE settings SET body = replace(body, '40000', '90000') WHERE version = 2",
		"settings 2 of shop 1 were changed"},
	{"settings.hash", "UPDATE settings SET hash = zeroblob(32) WHERE version = 2",
		"settings 2 of shop 1 were changed"},
	{"shop_entry.shop", "UPDATE shop_entry SET shop = 4 WHERE seq = 2",
		"what was told of shop 1 has a gap"},
	{"shop_entry.seq", "UPDATE shop_entry SET seq = 70 WHERE seq = 2", "what was told of shop 1 has a gap"},
	{"shop_entry.kind", "UPDATE shop_entry SET kind = 'code' WHERE seq = 2",
		"what was told of shop 1 was changed at 2"},
	{"shop_entry.key", "UPDATE shop_entry SET key = '7' WHERE seq = 2",
		"what was told of shop 1 was changed at 2"},
	{"shop_entry.by_person", "UPDATE shop_entry SET by_person = 9 WHERE seq = 2",
		"shop 1 was changed at 2"},
	{"shop_entry.recorded", "UPDATE shop_entry SET recorded = 9 WHERE seq = 2", "shop 1 was changed at 2"},
	{"shop_entry.row", "UPDATE shop_entry SET row = zeroblob(32) WHERE seq = 2", "shop 1 was changed at 2"},
	{"shop_entry.prev", "UPDATE shop_entry SET prev = zeroblob(32) WHERE seq = 2",
		"shop 1 has a gap or another order at 2"},
	{"shop_entry.hash", "UPDATE shop_entry SET hash = zeroblob(32) WHERE seq = 2",
		"shop 1 was changed at 2"},
	{"person.shop", "UPDATE person SET shop = 4 WHERE id = 2",
		"the name or personal code of person 2 of shop 1 is missing"},
	{"person.id", "UPDATE person SET id = 22 WHERE id = 2",
		"the name or personal code of person 2 of shop 1 is missing"},
	{"person.name", "UPDATE person SET name = 'Eve' WHERE id = 2",
		"person 2 of shop 1 reads otherwise than it was told"},
	{"person.mark", "UPDATE person SET mark = x'07' WHERE id = 2", "person 2 of shop 1 reads otherwise"},
	{"person.salt", "UPDATE person SET salt = zeroblob(16) WHERE id = 2",
		"person 2 of shop 1 reads otherwise"},
	{"person.pin", "UPDATE person SET pin = zeroblob(16) WHERE id = 2",
		"person 2 of shop 1 reads otherwise"},
	{"account.chat", "UPDATE account SET chat = 'term:eve' WHERE person = 2",
		"the account of a phone of shop 1 is missing"},
	{"account.shop", "UPDATE account SET shop = 4 WHERE person = 2",
		"an account of shop 4 belongs to nobody: person 2"},
	{"account.person", "UPDATE account SET person = 1 WHERE person = 2",
		"the account of a phone of shop 1 reads otherwise than it was told"},
	{"account.frozen", "UPDATE account SET frozen = 1 WHERE person = 2",
		"the account of a phone of shop 1 reads otherwise"},
	{"account.shared", "UPDATE account SET shared = 1 WHERE person = 2",
		"the account of a phone of shop 1 reads otherwise"},
	{"account.mark", "UPDATE account SET mark = x'07' WHERE person = 2",
		"the account of a phone of shop 1 is"},
	{"code.hash", "UPDATE code SET hash = zeroblob(32)",
		"a link that lets somebody in of shop 1 is there of which nothing"},
	{"code.shop", "UPDATE code SET shop = 4",
		"a link that lets somebody in of shop 4 is there of which nothing"},
	{"code.person", "UPDATE code SET person = 2", "a link that lets somebody in of shop 1 reads otherwise"},
	{"code.role", "UPDATE code SET role = 'owner'",
		"a link that lets somebody in of shop 1 reads otherwise"},
	{"code.by_person", "UPDATE code SET by_person = 3",
		"a link that lets somebody in of shop 1 reads otherwise"},
	{"code.expires", "UPDATE code SET expires = expires + 1",
		"a link that lets somebody in of shop 1 reads otherwise"},
	{"code.used", "UPDATE code SET used = 5", "a link that lets somebody in of shop 1 reads otherwise"},
	{"picture.machine", "UPDATE picture SET machine = 9", "photo 1/7/1 of shop 1 is missing"},
	{"picture.seq", "UPDATE picture SET seq = 10, n = 0", "photo 1/7/1 of shop 1 is missing"},
	{"picture.n", "UPDATE picture SET n = 0", "photo 1/7/1 of shop 1 is missing"},
	{"picture.digest", "UPDATE picture SET digest = NULL", "photo 1/7/1 of shop 1 reads otherwise"},
	{"month.shop", "UPDATE month SET shop = 4", "the finished month 2025-12 of shop 1 is missing"},
	{"month.month", "UPDATE month SET month = '2025-11'", "month 2025-11 of shop 1 is there of which"},
	{"month.by_person", "UPDATE month SET by_person = 2", "month 2025-12 of shop 1 reads otherwise"},
	{"month.finished", "UPDATE month SET finished = 1", "the finished month 2025-12 of shop 1 reads otherwise"},
	{"month.upto", "UPDATE month SET upto = '{}'", "the finished month 2025-12 of shop 1 reads otherwise"},
	{"machine.id", "UPDATE machine SET id = 9", "the machine's own row is missing"},
	{"machine.shop", "UPDATE machine SET shop = 2", "settings of shop 2 name no machine 1"},
	{"machine.seq", "UPDATE machine SET seq = 8", "the books stand at entry 8, the last one is 10"},
	{"machine.head", "UPDATE machine SET head = zeroblob(32)", "the books stand on another entry 10"},
	{"machine.body", "UPDATE machine SET body = replace(body, '\"cash\"', '\"till\"')",
		"differ from the fold over 10"},
	{"machine.fold", "UPDATE machine SET fold = fold + 1",
		"the books at hand are those of another program"},
	{"claim.machine", "UPDATE claim SET machine = 9", "what the bank owes for entry 8 is missing"},
	{"claim.seq", "UPDATE claim SET seq = 7", "said to owe for entry 7, by which it does not"},
	{"claim.open", "UPDATE claim SET open = 0", "what the bank owes for entry 8 differs"},
	{"claim.day", "UPDATE claim SET day = '2026-01-09'", "what the bank owes for entry 8 differs"},
	{"claim.remains", "UPDATE claim SET remains = 1", "what the bank owes for entry 8 differs"},
	{"claim.due", "UPDATE claim SET due = '2026-01-01'", "what the bank owes for entry 8 differs"},
	{"claim.paid", "UPDATE claim SET paid = 1", "what the bank owes for entry 8 differs"},
	{"claim.body", "UPDATE claim SET body = replace(body, '\"paid\":\"0\"', '\"paid\":\"90\"')",
		"what the bank owes for entry 8 differs"},
	{"owing.machine", "UPDATE owing SET machine = 9",
		"what the bank owes by day-month of \"\" is missing"},
	{"owing.kind", "UPDATE owing SET kind = 'day' WHERE kind = 'day-year'",
		"what the bank owes by day-year of \"\" is missing"},
	{"owing.span", "UPDATE owing SET span = '2025' WHERE kind = 'day-year'",
		"what the bank owes by day-year of \"2025\" differs"},
	{"owing.n", "UPDATE owing SET n = n + 1", "what the bank owes by day-month of \"\" differs"},
	{"owing.remains", "UPDATE owing SET remains = 1", "what the bank owes by day-year of \"\" differs"},
	{"checkpoint.machine", "UPDATE checkpoint SET machine = 4", "the machine's own row is missing"},
	{"checkpoint.seq", "UPDATE checkpoint SET seq = 8", "the books kept after entry 8 are not those after it"},
	{"checkpoint.day", "UPDATE checkpoint SET day = '2026-02-01'",
		"the books kept after entry 9 are not those"},
	{"checkpoint.body", "UPDATE checkpoint SET body = replace(body, '\"cash\"', '\"till\"')",
		"the books kept after entry 9 are not those"},
	{"learnt.machine", "UPDATE learnt SET machine = 4", "the machine's own row is missing"},
	{"learnt.seq", "UPDATE learnt SET seq = 8", "what is kept for advice is up to entry 8, which it is not"},
	{"learnt.newest", "UPDATE learnt SET newest = newest + 1",
		"what is kept for advice is up to entry 9, which it is not"},
	{"learnt.body", "UPDATE learnt SET body = replace(body, '/', '/1')",
		"what is kept for advice is not what 9 entries tell"},
	{"unfetched.machine", "UPDATE unfetched SET machine = 9",
		"photo 0 of entry 10 of machine 1 is not on the list"},
	{"unfetched.seq", "UPDATE unfetched SET seq = 7", "photo 0 of entry 7 of machine 1 is on the list"},
	{"unfetched.n", "UPDATE unfetched SET n = 3", "photo 3 of entry 10 of machine 1 is on the list"},
	{"chat.machine", "UPDATE chat SET machine = 9", "a dialog under way differs from the dialog"},
	{"chat.flow", "UPDATE chat SET flow = 'closing'", "a dialog under way differs from the dialog"},
	{"chat.blind", "UPDATE chat SET blind = 1", "a dialog under way differs from the dialog"},
	{"chat.since", "UPDATE chat SET since = since + 1", "a dialog under way differs from the dialog"},
	{"migration.number", "UPDATE migration SET number = 99 WHERE number = 2", "cannot be opened"},
	{"migration.name", "UPDATE migration SET name = 'x' WHERE number = 2",
		"migration 2 of the file reads differently"},
	{"migration.checksum", "UPDATE migration SET checksum = 'x' WHERE number = 2", "cannot be opened"},
}

// Whoever drops the guards, changes one field and puts the guards back is found,
// and the first thing said names what it was.
func TestTamperings(t *testing.T) {
	source := rich(t)
	if got := faults(t, source); len(got) > 0 {
		t.Fatalf("untouched: %q", got)
	}
	data, err := os.ReadFile(source)
	ok(t, err)
	pictures := store.Pictures(source)
	for i, c := range tamperings {
		t.Run(fmt.Sprintf("%s %d", c.field, i), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "shop.db")
			ok(t, os.WriteFile(path, data, 0o600))
			ok(t, os.Symlink(pictures, store.Pictures(path)))
			unguarded(t, plain(t, path), c.sql)
			got := faults(t, path)
			for _, f := range got {
				if len(store.WhatToDo([]string{f})) == 0 && !strings.HasPrefix(f, "cannot be opened") {
					t.Errorf("nobody is told what to do about %q", f)
				}
			}
			if !slices.ContainsFunc(got, func(f string) bool { return strings.Contains(f, c.want) }) {
				t.Errorf("want %q, found %q", c.want, got)
			}
		})
	}
}

// unguarded runs what the guards forbid, and leaves them as they were.
func unguarded(t *testing.T, db *sql.DB, change string) {
	t.Helper()
	rows, err := db.Query("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")
	ok(t, err)
	guards := map[string]string{}
	for rows.Next() {
		var name, body string
		ok(t, rows.Scan(&name, &body))
		guards[name] = body
	}
	ok(t, rows.Err())
	script := "PRAGMA foreign_keys = OFF;"
	for name := range guards {
		script += "DROP TRIGGER " + name + ";"
	}
	script += change + ";"
	for _, body := range guards {
		script += body + ";"
	}
	_, err = db.Exec(script)
	ok(t, err)
	ok(t, db.Close())
}

// faults are all that a file is said to have, whether it can be opened or not.
func faults(t *testing.T, path string) (list []string) {
	t.Helper()
	r, err := store.OpenReader(context.Background(), path)
	if err != nil {
		return []string{"cannot be opened: " + err.Error()}
	}
	defer func() { _ = r.Close() }()
	reports, err := r.Verify(context.Background())
	if err != nil {
		return []string{"cannot be read: " + err.Error()}
	}
	for _, rep := range reports {
		list = append(list, rep.Faults...)
	}
	return list
}

// The table in the package's words has each column of the file once, and for each
// that is chained or rebuilt there is a tampering that was found.
func TestTableOfColumns(t *testing.T) {
	source, err := os.ReadFile(filepath.Join("proof", "doc.go"))
	ok(t, err)
	how, part := map[string]string{}, ""
	for line := range strings.Lines(string(source)) {
		words := strings.Fields(strings.TrimPrefix(line, "//"))
		switch {
		case strings.HasPrefix(line, "//\t"):
			for _, column := range words[1:] {
				field := words[0] + "." + column
				if how[field] != "" {
					t.Errorf("%s stands there twice", field)
				}
				how[field] = part
			}
		case len(words) > 0:
			for _, p := range []string{"Chained", "Rebuilt", "Shape"} {
				if words[0] == p || words[0] == p+":" {
					part = p
				}
			}
		}
	}
	for _, field := range columns(t) {
		part := how[field]
		delete(how, field)
		if part == "" {
			t.Errorf("%s is not in the table", field)
			continue
		}
		found := slices.ContainsFunc(tamperings, func(c tampering) bool { return c.field == field })
		if found == (part == "Shape") {
			t.Errorf("%s is of the kind %s; it was tampered with: %t", field, part, found)
		}
	}
	for field := range how {
		t.Errorf("%s is in no file", field)
	}
}

// columns lists every column of every table.
func columns(t *testing.T) (list []string) {
	_, path := open(t)
	rows, err := plain(t, path).Query(`SELECT s.name || '.' || c.name
		FROM sqlite_schema s, pragma_table_info(s.name) c WHERE s.type = 'table'`)
	ok(t, err)
	for rows.Next() {
		var field string
		ok(t, rows.Scan(&field))
		list = append(list, field)
	}
	ok(t, rows.Err())
	if len(list) < 60 {
		t.Fatalf("found only %d columns", len(list))
	}
	return list
}
