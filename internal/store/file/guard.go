package file

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync/atomic"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"shopfloat/internal/filewatch"
)

// Doubt is why nothing is written any more: what is written may go nowhere. It
// stays for the life of a DB.
type Doubt struct {
	What    string // in words that people read
	Cause   error  // what SQLite says, for whoever looks after the computer; nil: nothing
	Rescued string // file that holds all that was confirmed; empty: there is none
}

func (d *Doubt) Error() string {
	if d.Cause != nil {
		return "writing was stopped: " + d.What + " (" + d.Cause.Error() + ")"
	}
	return "writing was stopped: " + d.What
}

// guard keeps watch over the files of a DB.
type guard struct {
	watch *filewatch.Watch
	mark  *filewatch.Marker
	check func(Query) error // what the file holds hangs together
	doubt *Doubt
	pages pageCheck
}

// pageCheck looks at every page of a file that is too large to wait for.
type pageCheck struct {
	found chan *Doubt // what is wrong, once it is found; nil: never begun
	begun atomic.Bool // and not to be begun again yet
	stop  context.CancelFunc
}

// begin starts to keep watch, when the files are open and as they should be.
func (g *guard) begin(ctx context.Context, path string, each Query, now time.Time, keep bool) error {
	heads, _, err := headsOf(each, filewatch.Heads{})
	if err != nil {
		return err
	}
	m := filewatch.Mark{Ended: filewatch.Running, At: now.UTC(), Heads: heads, Bare: !filewatch.Logged(path)}
	if g.mark, err = filewatch.OpenMark(path, m, keep); err != nil {
		return fmt.Errorf("the mark beside the file: %w", err)
	}
	g.watch = filewatch.New(path)
	return nil
}

// Look tells, without writing anything, whether the file is still the one that
// is written to; an error is a [Doubt]. Somebody else's writing leads to a
// look into it.
func (db *DB) Look(ctx context.Context) error {
	if db.doubt != nil {
		return db.doubt
	}
	select {
	case d := <-db.pages.found:
		return db.doubted("somebody wrote to "+filepath.Base(db.path)+", and "+d.What, d.Cause)
	default:
	}
	f := db.watch.Look(false)
	if f.State == filewatch.Touched {
		if d := db.inspect(ctx); d != nil {
			return db.doubted(f.What+", and "+d.What, d.Cause)
		}
		_ = db.mark.Renew() // without one a start knows less, and that is all
		db.watch.Accept()
		return nil
	}
	if f.State == filewatch.Lost {
		return db.doubted(f.What, nil)
	}
	return nil
}

// hurt looks at the file at once where a statement fails: one that was emptied or written
// over is found by a page that cannot be read as often as by the watch, and the step that
// met it must not be tried again and given up. What SQLite itself calls damaged stops the
// writing, too, whatever the names and times say.
func (db *DB) hurt(err error) error {
	var e *sqlite.Error
	if db.watch == nil || !errors.As(err, &e) {
		return err
	}
	doubt, code := db.Look(context.Background()), e.Code()&0xff
	if doubt == nil && (code == sqlite3.SQLITE_CORRUPT || code == sqlite3.SQLITE_NOTADB) {
		doubt = db.doubted(filepath.Base(db.path)+" is damaged", err)
	}
	if doubt == nil {
		return err
	}
	return doubt
}

// written takes note of what a commit brought, unless it went nowhere.
func (db *DB) written(heads filewatch.Heads, now time.Time) error {
	if f := db.watch.Look(true); f.State == filewatch.Lost {
		return db.doubted(f.What, nil)
	}
	// a mark that lags behind hides a loss, at worst; the commit stands
	_ = db.mark.Committed(heads, now)
	return nil
}

func (db *DB) doubted(what string, cause error) error {
	db.doubt = &Doubt{What: what, Cause: cause}
	_ = db.mark.Say(filewatch.Running, what) // what else is to be done does not hang on it
	return db.doubt
}

// quickMax bounds the files whose every page is looked at at once when somebody wrote to
// them: the committer waits for it. At 571 MB/s that is a tenth of a second. Of a larger one
// they are looked at beside it. It is changed by tests alone.
var quickMax int64 = 50 << 20

// inspect looks into the file through a connection of its own, which finds it by
// its name, and says what is wrong.
func (db *DB) inspect(ctx context.Context) *Doubt {
	conn, err := sql.Open("sqlite", fileURL(db.path, reading))
	if err != nil {
		return unreadable(err)
	}
	defer func() { _ = conn.Close() }()
	want := db.mark.Heads()
	have, followed, err := headsOf(On(ctx, conn), want)
	switch {
	case err != nil:
		return unreadable(err)
	case have.Inbox < want.Inbox || !followed:
		return &Doubt{What: "what was confirmed last is not in it"}
	}
	if err := db.check(On(ctx, conn)); err != nil {
		return &Doubt{What: "it is damaged", Cause: err}
	}
	if info, err := os.Stat(db.path); err != nil || info.Size() > quickMax {
		db.pages.begin(db.path)
		return nil
	}
	return soundPages(ctx, conn)
}

func unreadable(err error) *Doubt { return &Doubt{What: "it cannot be read", Cause: err} }

// soundPages says what is wrong with the pages of a file; nil: nothing.
func soundPages(ctx context.Context, conn *sql.DB) *Doubt {
	var said string
	if err := conn.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&said); err != nil {
		return unreadable(err)
	}
	if said != "ok" {
		return &Doubt{What: "it is damaged", Cause: errors.New(said)}
	}
	return nil
}

// pagesEvery is how long all pages are not looked at again: a replicator writes all day.
const pagesEvery = 10 * time.Minute

// begin looks at every page while the bot goes on, unless that is under way or was done just
// now. What is wrong is found by a later [DB.Look].
func (p *pageCheck) begin(path string) {
	if !p.begun.CompareAndSwap(false, true) {
		return
	}
	if p.found == nil {
		p.found = make(chan *Doubt, 1)
	}
	ctx, stop := context.WithCancel(context.Background())
	p.stop = stop
	go func() {
		if d := readPages(ctx, path); d != nil && ctx.Err() == nil {
			p.found <- d // nothing is begun behind it
			return
		}
		select {
		case <-ctx.Done():
		case <-time.After(pagesEvery):
			p.begun.Store(false)
		}
	}()
}

// end gives up what is under way.
func (p *pageCheck) end() {
	if p.stop != nil {
		p.stop()
	}
}

func readPages(ctx context.Context, path string) *Doubt {
	conn, err := sql.Open("sqlite", fileURL(path, reading))
	if err != nil {
		return unreadable(err)
	}
	defer func() { _ = conn.Close() }()
	return soundPages(ctx, conn)
}

// headsOf reads the newest things of a file, and whether it holds the entry that
// others know to be the newest. A file without tables has none.
func headsOf(each Query, known filewatch.Heads) (h filewatch.Heads, followed bool, err error) {
	tables := 0
	err = each(`SELECT count(*) FROM sqlite_schema WHERE name IN ('inbox', 'entry')`, nil,
		func(row Scanner) error { return row.Scan(&tables) })
	if err != nil || tables < 2 {
		return h, known.Seq == 0, err
	}
	err = each("SELECT coalesce(max(id), 0) FROM inbox", nil,
		func(row Scanner) error { return row.Scan(&h.Inbox) })
	if err == nil {
		err = each("SELECT machine, seq, hash FROM entry ORDER BY cause DESC, cause_n DESC LIMIT 1", nil,
			func(row Scanner) error { return row.Scan(&h.Machine, &h.Seq, &h.Hash) })
	}
	followed = known.Seq == 0
	if err == nil && !followed {
		err = each("SELECT 1 FROM entry WHERE machine = ? AND seq = ? AND hash = ?",
			[]any{known.Machine, known.Seq, known.Hash}, func(Scanner) error { followed = true; return nil })
	}
	return h, followed, err
}

// examine looks at what lies in the place of a file before anything is written.
func examine(ctx context.Context, path string, s *sight) (f filewatch.Found, err error) {
	f.File, f.Log = lies(path), lies(path+"-wal")
	m, err := filewatch.ReadMark(path)
	switch {
	case err == nil:
		f.Mark = &m
	case errors.Is(err, filewatch.ErrMark):
		f.Garbled = true
	case !errors.Is(err, fs.ErrNotExist):
		return f, err
	}
	f.Journal = there(path + "-journal")
	if f.File != filewatch.Present || f.Journal {
		f.Followed = f.Mark == nil || f.Mark.Seq == 0
		return f, nil
	}
	var known filewatch.Heads
	if f.Mark != nil {
		known = f.Mark.Heads
	}
	each, err := s.again(ctx, path)
	if err == nil {
		f.Heads, f.Followed, err = headsOf(each, known)
	}
	return f, err
}

func lies(path string) filewatch.There {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return filewatch.Absent
	case info.Size() == 0:
		return filewatch.Empty
	}
	return filewatch.Present
}
