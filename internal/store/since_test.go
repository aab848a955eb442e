package store_test

import (
	"context"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/store"
)

// What is looked at each night is the records since: one of them that was changed,
// left out or moved is found, and one of before is left to the whole proof.
func TestVerifySince(t *testing.T) {
	since := morning.Add(5 * time.Minute) // entry 5 was recorded then
	for _, c := range []struct{ name, sql, want string }{
		{"nothing", "", ""},
		{"a body", "UPDATE entry SET body = replace(body, '120', '121') WHERE seq = 6", "entry 6 was changed"},
		{"a movement", "UPDATE move SET notes = notes + 1 WHERE seq = 7", "entry 7 was changed"},
		{"one left out", "DELETE FROM move WHERE seq = 7; DELETE FROM entry WHERE seq = 7", "entry 7 is missing"},
		{"the first of them", "UPDATE entry SET prev = zeroblob(32) WHERE seq = 5",
			"entry 5 does not follow entry 4"},
		{"the tail", "DELETE FROM move WHERE seq > 6; DELETE FROM attachment; DELETE FROM picture; " +
			"DELETE FROM entry WHERE seq > 6", "the books stand at entry 9, the last one is 6"},
		{"one of before", "UPDATE entry SET body = replace(body, '200', '201') WHERE seq = 1", ""},
		{"settings", "UPDATE settings SET since = 7 WHERE version = 1", "settings 1 of shop 1 were changed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			db, path := open(t)
			newLedger(t, db).post(day()...)
			ok(t, db.Close())
			if c.sql != "" {
				unguarded(t, plain(t, path), c.sql)
			}
			r, err := store.OpenReader(context.Background(), path)
			ok(t, err)
			defer func() { _ = r.Close() }()
			reports, err := r.VerifySince(context.Background(), since)
			ok(t, err)
			got := strings.Join(reports[0].Faults, "; ")
			if c.want == "" && got != "" || !strings.Contains(got, c.want) {
				t.Errorf("faults %q, want %q", got, c.want)
			}
			if c.want == "" && (reports[0].Entries != 9 || len(reports[0].Hashes) != 5 ||
				!reports[0].Newest.Equal(morning.Add(9*time.Minute))) {
				t.Errorf("report %+v", reports[0])
			}
		})
	}
}
