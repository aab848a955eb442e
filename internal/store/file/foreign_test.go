package file

import (
	"context"
	"database/sql"
	"path/filepath"
	"testing"
	"time"
)

// What was seen before the lock was there counts only where the file lies as it lay.
func TestLooksAgain(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "shop.db")
	db, err := Open(ctx, path, time.UnixMilli(7), func(Query) error { return nil }, false)
	if err == nil {
		err = db.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	const insert = "INSERT INTO inbox (id, source, key, at, status) VALUES "
	for _, c := range []struct {
		name  string
		write string
		want  int64
	}{
		{"nothing came", "", 0},
		{"a row came", insert + "(1, 'x', 'x', 0, 1)", 1},
		{"a row came and is in the log", insert + "(2, 'x', 'y', 0, 1)", 2},
	} {
		s, err := behold(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		first := s.c
		other, err := sql.Open("sqlite", fileURL(path, writing))
		if err != nil {
			t.Fatal(err)
		}
		if c.write != "" {
			if _, err := other.ExecContext(ctx, c.write); err != nil {
				t.Fatal(err)
			}
		}
		if c.want == 1 {
			_ = other.Close()
		}
		each, err := s.again(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		heads, _, err := headsOf(each, db.mark.Heads())
		if err != nil || heads.Inbox != c.want || (s.c == first) != (c.write == "") {
			t.Errorf("%s: newest row %d, looked anew: %v, %v", c.name, heads.Inbox, s.c != first, err)
		}
		s.end()
		_ = other.Close()
	}
}
