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

// sight is a look at a file before anything is written to it or beside it, and how it lay then.
type sight struct {
	pool      *sql.DB
	c         *sql.Conn   // nil: there is nothing to be read, or it cannot be
	file, log os.FileInfo // nil: not there
}

// behold refuses a file of another program. One that cannot be read, or holds a change not yet
// finished, is let through: opening it says more.
func behold(ctx context.Context, path string) (*sight, error) {
	s := &sight{file: laid(path), log: laid(path + "-wal")}
	if s.file == nil || s.file.Size() == 0 || there(path+"-journal") {
		return s, nil
	}
	query := reading
	if s.log == nil {
		query += "&immutable=1" // nobody writes to it; reading leaves no files beside it
	}
	err := s.connect(ctx, path, query)
	if err == nil {
		_, err = recognise(ctx, s.c)
	}
	if err != nil {
		s.end()
	}
	if isForeign(err) {
		return nil, ErrForeign
	}
	return s, nil
}

// again looks once more, now that nobody else may write: through what is open where the file
// lies as it lay.
func (s *sight) again(ctx context.Context, path string) (Query, error) {
	if s.c == nil || !alike(s.file, laid(path)) || !alike(s.log, laid(path+"-wal")) {
		s.end()
		if err := s.connect(ctx, path, reading); err != nil {
			return nil, err
		}
	}
	return On(ctx, s.c), nil
}

func (s *sight) connect(ctx context.Context, path, query string) (err error) {
	if s.pool, err = sql.Open("sqlite", fileURL(path, query)); err == nil {
		s.c, err = s.pool.Conn(ctx)
	}
	return err
}

func (s *sight) end() {
	if s.c != nil {
		_ = s.c.Close()
	}
	if s.pool != nil {
		_ = s.pool.Close()
	}
	s.pool, s.c = nil, nil
}

func laid(path string) os.FileInfo {
	info, err := os.Stat(path)
	if err != nil {
		return nil
	}
	return info
}

func alike(a, b os.FileInfo) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}

// recognise tells whether a file holds nothing yet; ErrForeign means that it
// holds something else than shopfloat's tables.
func recognise(ctx context.Context, c *sql.Conn) (empty bool, err error) {
	if ours(ctx, c) {
		return false, nil
	}
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

// ours is the quick look that a file of shopfloat's passes: its columns are asked for by name, which
// takes about half of what their list takes. Whatever fails it is looked at in full.
func ours(ctx context.Context, c *sql.Conn) bool {
	var id int64
	if err := c.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil || id != applicationID {
		return false
	}
	rows, err := c.QueryContext(ctx, "SELECT number, name, checksum, applied FROM migration LIMIT 0")
	return err == nil && errors.Join(rows.Err(), rows.Close()) == nil
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
