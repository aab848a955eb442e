package file

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// The settings of every connection stand in its name, so that none can miss
// them. FULL is needed: NORMAL loses commits on a power cut. What is deleted is
// overwritten: "fast" leaves erased words of over about a thousand letters. Who reads gets
// half a megabyte for pages: two of them would keep four for good once all was proved.
const (
	writing = "_pragma=busy_timeout(5000)&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)" +
		"&_pragma=foreign_keys(1)&_pragma=wal_autocheckpoint(1000)&_pragma=secure_delete(1)"
	reading = "mode=ro&_pragma=busy_timeout(5000)&_pragma=query_only(1)&_pragma=cache_size(-512)"
	copying = "mode=ro&_pragma=busy_timeout(5000)" // VACUUM INTO is no query
)

func fileURL(path, query string) string {
	full, err := filepath.Abs(path)
	if err != nil {
		full = path
	}
	u := url.URL{Scheme: "file", Path: filepath.ToSlash(full), RawQuery: query}
	return u.String()
}

// readBack refuses a connection whose settings did not take effect.
func readBack(ctx context.Context, c *sql.Conn) error {
	for _, p := range []struct{ name, want string }{
		{"journal_mode", "wal"}, {"synchronous", "2"}, {"foreign_keys", "1"}, {"busy_timeout", "5000"},
		{"secure_delete", "1"},
	} {
		var got string
		if err := c.QueryRowContext(ctx, "PRAGMA "+p.name).Scan(&got); err != nil {
			return fmt.Errorf("read back %s: %w", p.name, err)
		}
		if !strings.EqualFold(got, p.want) {
			return fmt.Errorf("%s is %s where %s is needed", p.name, got, p.want)
		}
	}
	return nil
}

// cannotWrite tells that reading failed because the files that readers and a
// writer share cannot be made: the folder, or all of the disk, is read-only.
func cannotWrite(err error) bool {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return false
	}
	code := e.Code() & 0xff
	return code == sqlite3.SQLITE_CANTOPEN || code == sqlite3.SQLITE_READONLY
}

func isBusy(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && e.Code()&0xff == sqlite3.SQLITE_BUSY
}

// DiskFault tells that an error is the disk's: it is full, fails, or may only be
// read. Nothing is lost by it that was confirmed.
func DiskFault(err error) bool {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return false
	}
	code := e.Code() & 0xff
	return code == sqlite3.SQLITE_FULL || code == sqlite3.SQLITE_IOERR || code == sqlite3.SQLITE_READONLY
}
