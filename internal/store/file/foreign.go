package file

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// ErrForeign means that the file belongs to another program, or to none.
// Nothing in it has been changed.
var ErrForeign = errors.New("is not a shopfloat file; name another file")

// applicationID stands in the header of every file: the bytes "shfl". Files
// from before it have 0 there until they are next opened for writing.
const applicationID = 1936221804

// refuseForeign looks at a file before anything is written to it or beside it.
// One that cannot be read, or holds a change not yet finished, is let through:
// opening it says more.
func refuseForeign(ctx context.Context, path string) error {
	info, err := os.Stat(path)
	if err != nil || info.Size() == 0 || there(path+"-journal") {
		return nil
	}
	query := reading
	if !there(path + "-wal") {
		query += "&immutable=1" // nobody writes to it; reading leaves no files beside it
	}
	db, err := sql.Open("sqlite", fileURL(path, query))
	if err != nil {
		return nil
	}
	defer func() { _ = db.Close() }()
	c, err := db.Conn(ctx)
	if err == nil {
		defer func() { _ = c.Close() }()
		_, err = recognise(ctx, c)
	}
	if isForeign(err) {
		return ErrForeign
	}
	return nil
}

// recognise tells whether a file holds nothing yet; ErrForeign means that it
// holds something else than shopfloat's tables.
func recognise(ctx context.Context, c *sql.Conn) (empty bool, err error) {
	var id, things, columns int64
	err = c.QueryRowContext(ctx, `SELECT (SELECT application_id FROM pragma_application_id),
		(SELECT count(*) FROM sqlite_schema), (SELECT count(*) FROM pragma_table_info('migration')
		WHERE name IN ('number', 'name', 'checksum', 'applied'))`).Scan(&id, &things, &columns)
	switch {
	case isForeign(err):
		return false, ErrForeign
	case err != nil:
		return false, fmt.Errorf("look at the file: %w", err)
	case id == 0 && things == 0:
		return true, nil
	case id != 0 && id != applicationID, columns != 4:
		return false, ErrForeign
	}
	return false, nil
}

// opening says of which file an error tells. That of a foreign one is a
// sentence that begins with its name.
func opening(what, path string, err error) error {
	if isForeign(err) { // what a connection is set to may read the file before it is looked at
		return fmt.Errorf("%s %w", path, ErrForeign)
	}
	var refused *Refused
	if errors.As(err, &refused) {
		return err // names the file itself
	}
	return fmt.Errorf("%s %s: %w", what, path, err)
}

func isForeign(err error) bool {
	var e *sqlite.Error
	return errors.Is(err, ErrForeign) || errors.As(err, &e) && e.Code()&0xff == sqlite3.SQLITE_NOTADB
}

func there(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}
