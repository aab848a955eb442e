// Package store is the one file that must not lie. It keeps what the shops
// have laid down, the ledger, what comes in and what goes out in SQLite, and
// writes all of it through one connection. Nothing outside this package knows
// SQLite.
//
// It has a part for each: file opens, locks and migrates; ledger keeps the
// records; chain keeps what was told of a shop beside them; people keeps shops,
// accounts and codes; queues keeps what comes in, what goes out and the dialogs;
// proof checks all of it. This package joins them in one transaction and is the
// only door.
//
// A [DB] is not safe for use by several goroutines at once: the desk is its
// only user. A [Reader] is.
package store

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/filewatch"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/chain"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
	"shopfloat/internal/store/people"
	"shopfloat/internal/store/queues"
	"shopfloat/internal/store/seal"
)

// lot is what salts are drawn by where nothing else is said.
var lot io.Reader = rand.Reader

// DB is the writer of a file. It holds the lock.
type DB struct {
	file   *file.DB
	reader *Reader
	ledger ledger.Cache
	people people.Cache
	queues queues.Cache
	chain  chain.Cache
	salts  io.Reader
}

// SaltsFrom says where salts of names and accounts come from, which are drawn by
// the system's own lot otherwise. It is for scripts that are to give the same
// file every time.
func (db *DB) SaltsFrom(r io.Reader) { db.salts = r }

// Open takes the lock of a file, creates it if there is none, brings its
// schema up to date and checks the end of every machine's chain. now dates the
// migrations. It fails with ErrInUse, ErrNetwork,
// ErrForeign, ErrSchema, ErrDamaged or a [Refused].
func Open(ctx context.Context, path string, now time.Time) (*DB, error) {
	return openAs(ctx, path, now, false)
}

// OpenAsIs opens a file that lacks something that was confirmed, or is another
// one than was there: somebody said that it is to be so.
func OpenAsIs(ctx context.Context, path string, now time.Time) (*DB, error) {
	return openAs(ctx, path, now, true)
}

func openAs(ctx context.Context, path string, now time.Time, asIs bool) (*DB, error) {
	f, err := file.Open(ctx, path, now, ledger.CheckTails, asIs)
	if err != nil {
		return nil, err
	}
	db := &DB{file: f, salts: lot}
	for _, forget := range []func(){db.ledger.Forget, db.people.Forget, db.queues.Forget, db.chain.Forget} {
		f.OnForget(forget)
	}
	if err = db.upgrade(now); err == nil && lacks(f.Opened().Case) {
		err = db.within(now, (*Tx).LeaveOutCards)
	}
	var r *file.Reader
	if err == nil {
		r, err = f.Reader(ctx)
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	db.reader = &Reader{r}
	return db, nil
}

// lacks tells that people were sent cards of which the file knows nothing.
func lacks(c filewatch.Case) bool {
	return c == filewatch.Older || c == filewatch.Another || c == filewatch.WasRestore
}

// Reopen gives up the connection, and with it whatever transaction it may
// still be in, and takes a new one.
func (db *DB) Reopen() error { return db.file.Reopen() }

// Close lets go of the file and the lock.
func (db *DB) Close() error { return errors.Join(db.reader.Close(), db.file.Close()) }

// Interpose has fn called before every statement, see [file.DB.Interpose].
func (db *DB) Interpose(fn func(query string) error) { db.file.Interpose(fn) }

// RowsRead tells how many rows were read so far, see [file.DB.RowsRead].
func (db *DB) RowsRead() int64 { return db.file.RowsRead() }

// Reader gives the reading side of the file; it ends with the DB.
func (db *DB) Reader() *Reader { return db.reader }

// Opened tells what the file was found to be, see [file.DB.Opened].
func (db *DB) Opened() Opened { return db.file.Opened() }

// Look tells whether the file is still the one that is written to, see [file.DB.Look].
func (db *DB) Look(ctx context.Context) error { return db.file.Look(ctx) }

// Rescue saves what was confirmed from a file in doubt, see [file.DB.Rescue].
func (db *DB) Rescue(ctx context.Context, now time.Time) (string, error) {
	return db.file.Rescue(ctx, now)
}

// Truncate empties the write-ahead log, see [file.DB.Truncate].
func (db *DB) Truncate() (done bool, err error) { return db.file.Truncate() }

// Tx is one transaction of the writer, with what each part does in it.
type Tx struct {
	ledger.Ledger
	people.People
	queues.Queues
	whole
	chain chain.Chain
}

// whole is what is done with a transaction as such, see [file.Tx].
type whole interface {
	Now() time.Time // of the transaction
	Commit() error
	Rollback()
	Try(fn func() error) error     // an error takes back what fn did
	Plainly(fn func() error) error // takes nothing back
}

// Begin starts a transaction in which everything sees the time now, in UTC and
// whole milliseconds.
func (db *DB) Begin(now time.Time) (*Tx, error) {
	tx, err := db.file.Begin(now)
	if err != nil {
		return nil, err
	}
	told := chain.In(tx, &db.chain, db.salts)
	return &Tx{
		Ledger: ledger.In(tx, &db.ledger), People: people.In(tx, &db.people, told),
		Queues: queues.In(tx, &db.queues), whole: tx, chain: told,
	}, nil
}

// ActAs says who lays down, lets in or leaves out in what follows; nobody does
// when nobody is named.
func (t *Tx) ActAs(person shop.PersonID) { t.chain.ActAs(person) }

// Post writes a record into a machine's ledger, see [ledger.Ledger.Post]. It
// names the newest thing told of the shop, so that one check word covers both.
func (t *Tx) Post(id shop.MachineID, by By, r books.Record, salts func() ([]byte, error)) error {
	m, of, err := t.Machine(id)
	if err == nil && by.Person != 0 {
		err = t.twoPersons(m, of, by.Person, &r)
	}
	if err != nil {
		return err
	}
	head, err := t.chain.ShopHead(of)
	if err != nil {
		return err
	}
	r.Pin = head.Pin()
	return t.Ledger.Post(id, by, r, salts)
}

// KeepPicture notes what became of a photo, see [ledger.Ledger.KeepPicture].
func (t *Tx) KeepPicture(p Picture, digest []byte) error {
	if err := t.Ledger.KeepPicture(p, digest); err != nil {
		return err
	}
	return t.chain.TellPicture(p.Machine, p.Seq, p.N)
}

// CheckWord is the word for all that stands in a machine's ledger and was told
// of its shop until now.
func (t *Tx) CheckWord(id shop.MachineID) (string, error) {
	head, err := t.Head(id)
	if err != nil {
		return "", err
	}
	_, of, err := t.Machine(id)
	if err != nil {
		return "", err
	}
	told, err := t.chain.ShopHead(of)
	return seal.CheckWord(seal.Joint(head, told.Hash)), err
}

// EndDialog ends the dialog under way in a chat; its cards are out of date from now on.
func (t *Tx) EndDialog(where chat.Chat) error {
	a, err := t.Account(where)
	if err != nil {
		return fmt.Errorf("end a dialog: %w", err)
	}
	s, err := t.State(where)
	if err != nil || s.Flow == "" {
		return err
	}
	return t.SaveState(where, a.Person, chat.State{
		V: s.V, Rev: s.Rev + 1, Last: s.Last, Walk: s.Walk, Cards: s.Cards, // a guide goes on
		Seen: s.Seen,
	})
}

// CutOff ends the dialog in a chat and drops what waits to be sent there. It
// gives the rows dropped.
func (t *Tx) CutOff(where chat.Chat) (rows []int64, err error) {
	s, err := t.State(where)
	if err != nil {
		return nil, err
	}
	if err := t.SaveState(where, 0, chat.State{V: s.V, Rev: s.Rev + 1}); err != nil {
		return nil, err
	}
	if rows, err = t.UnsentTo(where); err != nil {
		return nil, err
	}
	for _, id := range rows {
		err = errors.Join(err, t.Sent(id, 0))
	}
	return rows, err
}

// AddShops adds shops in one transaction dated now and gives their ids.
func (db *DB) AddShops(now time.Time, list []NewShop) ([]shop.ID, error) {
	t, err := db.Begin(now)
	if err != nil {
		return nil, err
	}
	ids := make([]shop.ID, 0, len(list))
	for _, s := range list {
		id, err := t.AddShop(s)
		if err != nil {
			t.Rollback()
			return nil, err
		}
		ids = append(ids, id)
	}
	return ids, t.Commit()
}

// seedBatch is how many shops are added in one transaction.
const seedBatch = 500

// Seed adds an example shop for each set of accounts, dated now. People's
// numbers come from random. Shops before the one that fails may stay.
func (db *DB) Seed(ctx context.Context, random io.Reader, now time.Time, list []ExampleAccounts) error {
	for len(list) > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		n := min(len(list), seedBatch)
		shops := make([]NewShop, 0, n)
		for _, a := range list[:n] {
			s, err := people.Example(random, a)
			if err != nil {
				return err
			}
			shops = append(shops, s)
		}
		if _, err := db.AddShops(now, shops); err != nil {
			return fmt.Errorf("example shop: %w", err)
		}
		list = list[n:]
	}
	return nil
}
