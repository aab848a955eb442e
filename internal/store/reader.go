package store

import (
	"cmp"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/filewatch"
	"shopfloat/internal/months"
	"shopfloat/internal/shop"
	"shopfloat/internal/store/file"
	"shopfloat/internal/store/ledger"
	"shopfloat/internal/store/people"
	"shopfloat/internal/store/proof"
	"shopfloat/internal/store/queues"
)

// Reader reads a file beside the program that writes it, and changes nothing.
type Reader struct{ file *file.Reader }

// OpenReader opens a file for reading. It fails when there is no such file,
// with ErrForeign when it is none of shopfloat's, and with ErrSchema when its
// schema is not this program's. A file that was closed can be read where
// nothing can be written.
func OpenReader(ctx context.Context, path string) (*Reader, error) {
	f, err := file.OpenReader(ctx, path)
	if err != nil {
		return nil, err
	}
	return &Reader{f}, nil
}

// Close lets go of the file.
func (r *Reader) Close() error { return r.file.Close() }

// Verify proves every machine's books from the first entry, see [proof.Verify].
func (r *Reader) Verify(ctx context.Context) ([]MachineReport, error) {
	return r.VerifySince(ctx, time.Time{})
}

// VerifySince looks at the records since an instant only, see [proof.Verify].
func (r *Reader) VerifySince(ctx context.Context, since time.Time) ([]MachineReport, error) {
	return proof.Verify(ctx, r.file, Pictures(r.file.Path()), since)
}

// VerifyWith does so with photos that lie in another folder than beside the file.
func (r *Reader) VerifyWith(ctx context.Context, photos string) ([]MachineReport, error) {
	return proof.Verify(ctx, r.file, photos, time.Time{})
}

// Sound looks at every page of the file, see [file.Reader.Sound].
func (r *Reader) Sound(ctx context.Context) error { return r.file.Sound(ctx) }

// Heads gives the newest things of the file, as its mark tells them.
func (r *Reader) Heads(ctx context.Context) (filewatch.Heads, error) { return r.file.Heads(ctx) }

// Photos lists the digests of the photos and statements that are kept.
func (r *Reader) Photos(ctx context.Context) ([][]byte, error) {
	var list [][]byte
	err := r.file.Each(ctx, `SELECT DISTINCT p.digest FROM picture p JOIN attachment a
		ON a.machine = p.machine AND a.seq = p.seq AND a.n = p.n
		WHERE p.digest IS NOT NULL AND a.photo IS NOT NULL
		UNION SELECT digest FROM statement WHERE digest IS NOT NULL ORDER BY 1`, nil, func(row file.Scanner) error {
		var digest []byte
		err := row.Scan(&digest)
		list = append(list, digest)
		return err
	})
	return list, err
}

// Entries gives a machine's whole ledger, oldest entry first.
func (r *Reader) Entries(ctx context.Context, id shop.MachineID) ([]books.Entry, error) {
	return ledger.ReadAll(func(q string, args []any, scan func(file.Scanner) error) error {
		return r.file.Each(ctx, q, args, scan)
	}, id, time.Time{})
}

// lastDay is behind every day that is asked about.
const lastDay shop.Date = "9999-12-31"

// Since gives what is to be read to tell of a machine's days in a span, see [months.Reaching]: books, and
// all entries since then, with the shop's finished months, all as they stand at one moment. An empty
// date leaves a side open.
func (r *Reader) Since(ctx context.Context, s *shop.Shop, id shop.MachineID, from, to shop.Date) (
	then *books.Machine, entries []books.Entry, finished []shop.Finished, err error) {
	local := func(at time.Time) shop.Date { return shop.DateOf(at.In(s.Location)) }
	err = r.file.Moment(ctx, func(each file.Query) error {
		var failed error
		some := func(m *books.Machine, list []books.Entry, err error) (*books.Machine, []books.Entry) {
			if failed = errors.Join(failed, err); m == nil {
				m = books.New(id)
			}
			return m, list
		}
		if finished, failed = people.Finished(each, s.ID); from == "" {
			list, err := ledger.ReadAll(each, id, time.Time{})
			then, entries = some(nil, list, err)
			return failed
		}
		then, entries = months.Reaching(months.Of(finished, id), from, cmp.Or(to, lastDay), local,
			func(day shop.Date) (*books.Machine, []books.Entry) { return some(ledger.Lately(each, id, day)) },
			func(seq int64) (*books.Machine, []books.Entry) { return some(ledger.Before(each, id, seq)) })
		return failed
	})
	return then, entries, finished, err
}

// RowsRead tells how many rows were read so far, see [file.Reader.RowsRead].
func (r *Reader) RowsRead() int64 { return r.file.RowsRead() }

// Unfetched lists the photos that are still to be fetched.
func (r *Reader) Unfetched(ctx context.Context) ([]Picture, error) {
	var list []Picture
	err := r.file.Each(ctx, `SELECT u.machine, u.seq, u.n, a.photo FROM unfetched u
		JOIN attachment a ON a.machine = u.machine AND a.seq = u.seq AND a.n = u.n`, nil,
		func(row file.Scanner) error {
			var p Picture
			err := row.Scan(&p.Machine, &p.Seq, &p.N, &p.ID)
			list = append(list, p)
			return err
		})
	return list, err
}

// Unread lists the statements that are to be read.
func (r *Reader) Unread(ctx context.Context) ([]Statement, error) { return queues.Unread(ctx, r.file) }

// Keeps lists the shops whose books the person of a chat keeps.
func (r *Reader) Keeps(ctx context.Context, where chat.Chat) ([]shop.ID, error) {
	persons := map[shop.ID]shop.PersonID{}
	const query = "SELECT shop, person FROM account WHERE chat = ? AND frozen = 0 AND shared = 0"
	err := r.file.Each(ctx, query, []any{where},
		func(row file.Scanner) error {
			var id shop.ID
			var person shop.PersonID
			err := row.Scan(&id, &person)
			persons[id] = person
			return err
		})
	if err != nil || len(persons) == 0 {
		return nil, err
	}
	var list []shop.ID
	err = r.Shops(ctx, func(s *shop.Shop) error {
		if p, ok := s.Person(persons[s.ID]); ok && access.Keeping.Has(p.Acts()) {
			list = append(list, s.ID)
		}
		return nil
	})
	return list, err
}

// Finished lists the months of a shop that were finished.
func (r *Reader) Finished(ctx context.Context, id shop.ID) ([]shop.Finished, error) {
	return people.Finished(func(q string, args []any, scan func(file.Scanner) error) error {
		return r.file.Each(ctx, q, args, scan)
	}, id)
}

// NextDue gives the time of the earliest deadline.
func (r *Reader) NextDue(ctx context.Context) (due time.Time, ok bool, err error) {
	var ms sql.NullInt64
	err = r.file.One(ctx, "SELECT min(due_at) FROM deadline", nil, &ms)
	return file.Instant(ms.Int64), ms.Valid, err
}

// Unplanned lists the machines in service that nobody would be reminded of.
func (r *Reader) Unplanned(ctx context.Context) ([]queues.Machine, error) {
	return queues.Unplanned(ctx, r.file)
}

// Latest gives the newest instant of which the file tells; zero for a new file.
func (r *Reader) Latest(ctx context.Context) (time.Time, error) {
	var ms int64
	err := r.file.One(ctx, `SELECT max(coalesce((SELECT max(at) FROM inbox), 0),
		coalesce((SELECT max(recorded) FROM entry), 0))`, nil, &ms)
	return file.Instant(ms), err
}

// Open lists the chats with a dialog under way.
func (r *Reader) Open(ctx context.Context) ([]chat.Chat, error) {
	var list []chat.Chat
	const query = "SELECT chat FROM chat WHERE flow <> '' ORDER BY chat"
	err := r.file.Each(ctx, query, nil, func(row file.Scanner) error {
		var c chat.Chat
		err := row.Scan(&c)
		list = append(list, c)
		return err
	})
	return list, err
}

// MessageID gives the message a row of the outbox became; 0 for none.
func (r *Reader) MessageID(ctx context.Context, row int64) (id int64, err error) {
	err = r.file.One(ctx, "SELECT message_id FROM outbox WHERE id = ?", []any{row}, &id)
	if errors.Is(err, ErrNone) {
		return 0, nil
	}
	return id, err
}

// Shop gives the newest version of the shop a chat belongs to, without people's
// names; ErrNone for a stranger.
func (r *Reader) Shop(ctx context.Context, where chat.Chat) (*shop.Shop, error) {
	var id shop.ID
	var version int64
	var body []byte
	err := r.file.One(ctx, `SELECT s.shop, s.version, s.body FROM account a JOIN settings s ON s.shop = a.shop
		WHERE a.chat = ? AND a.frozen IN (0, 4) ORDER BY a.used DESC, a.shop, s.version DESC LIMIT 1`, []any{where},
		&id, &version, &body)
	if err != nil {
		return nil, err
	}
	var settings shop.Settings
	if err := json.Unmarshal(body, &settings); err != nil {
		return nil, fmt.Errorf("shop %d version %d: %w", id, version, err)
	}
	return shop.New(id, version, settings)
}

// ownersMax bounds whom [Reader.Owners] gives.
const ownersMax = 500

// Owners gives the chats of the owners of a shop, or of all shops.
func (r *Reader) Owners(ctx context.Context, id shop.ID) ([]chat.Chat, error) {
	var list []chat.Chat
	err := r.file.Each(ctx, `SELECT DISTINCT a.chat FROM settings s, json_each(s.body, '$.people') p
		JOIN account a ON a.shop = s.shop AND a.person = json_extract(p.value, '$.id')
		WHERE s.version = (SELECT max(version) FROM settings WHERE shop = s.shop) AND a.frozen IN (0, 4)
		AND json_extract(p.value, '$.role') = 'owner' AND ?2 IN (0, s.shop) ORDER BY a.chat LIMIT +?1`,
		[]any{ownersMax, id},
		func(row file.Scanner) error {
			var c chat.Chat
			err := row.Scan(&c)
			list = append(list, c)
			return err
		})
	if err != nil {
		return nil, fmt.Errorf("owners: %w", err)
	}
	return list, nil
}

// Member is a phone of somebody who works in a shop.
type Member struct {
	Chat   chat.Chat
	Person shop.PersonID
	Lang   string
	Newest time.Time // when this person's last record was made; zero: there is none
}

// Members lists the phones of a shop that are not frozen.
func (r *Reader) Members(ctx context.Context, s *shop.Shop) ([]Member, error) {
	newest := map[shop.PersonID]int64{}
	for _, m := range s.Machines {
		err := r.file.Each(ctx, "SELECT by_person, max(recorded) FROM entry WHERE machine = ? GROUP BY by_person",
			[]any{m.ID}, func(row file.Scanner) error {
				var by shop.PersonID
				var at int64
				err := row.Scan(&by, &at)
				newest[by] = max(newest[by], at)
				return err
			})
		if err != nil {
			return nil, fmt.Errorf("members: %w", err)
		}
	}
	var list []Member
	err := r.file.Each(ctx, `SELECT a.chat, a.person, coalesce(c.lang, '') FROM account a
		LEFT JOIN chat c ON c.chat = a.chat WHERE a.shop = ? AND a.frozen IN (0, 4) ORDER BY a.chat`, []any{s.ID},
		func(row file.Scanner) error {
			var m Member
			err := row.Scan(&m.Chat, &m.Person, &m.Lang)
			m.Newest = file.Instant(newest[m.Person])
			list = append(list, m)
			return err
		})
	return list, err
}

// Shops hands over the newest version of every shop, by number and without
// people's names, until fn fails.
func (r *Reader) Shops(ctx context.Context, fn func(*shop.Shop) error) error {
	return r.file.Each(ctx, `SELECT shop, version, body FROM settings s
		WHERE version = (SELECT max(version) FROM settings WHERE shop = s.shop) ORDER BY shop`, nil,
		func(row file.Scanner) error {
			var id shop.ID
			var version int64
			var body []byte
			if err := row.Scan(&id, &version, &body); err != nil {
				return err
			}
			var settings shop.Settings
			if err := json.Unmarshal(body, &settings); err != nil {
				return fmt.Errorf("shop %d version %d: %w", id, version, err)
			}
			s, err := shop.New(id, version, settings)
			if err != nil {
				return err
			}
			return fn(s)
		})
}
