package backup_test

import (
	"context"
	"crypto/sha256"
	"errors"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"shopfloat/internal/backup"
	"shopfloat/internal/books"
	"shopfloat/internal/cashmath"
	"shopfloat/internal/checks"
	"shopfloat/internal/filewatch"
	"shopfloat/internal/store"
)

var (
	ctx     = context.Background()
	morning = time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)
)

func TestMain(m *testing.M) { os.Exit(checks.FilesInMemory(m)) }

func ok(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// opened is a file with an example shop that is being written to.
type opened struct {
	t    *testing.T
	db   *store.DB
	path string
	n    int64
}

func open(t *testing.T) *opened {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.db")
	db, err := store.Open(ctx, path, morning)
	ok(t, err)
	t.Cleanup(func() { _ = db.Close() })
	ok(t, db.Seed(ctx, rand.NewChaCha8([32]byte{1}), morning, []store.ExampleAccounts{{Owner: "tg:1000001"}}))
	o := &opened{t: t, db: db, path: path}
	photo := []books.Photo{{ID: "a", Unique: "b"}}
	o.post(books.Record{Kind: books.Opening, Figures: notes(books.Loaded), Photos: photo})
	return o
}

func notes(f books.Field) (list []books.Figure) {
	for i, face := range []cashmath.Face{"50", "20", "10"} {
		list = append(list, books.Figure{Field: f, Box: i + 1, Face: face, Notes: 1})
	}
	return list
}

// post writes a record and gives how many there are by then.
func (o *opened) post(r books.Record) {
	o.t.Helper()
	o.n++
	r.Happened = morning.Add(time.Duration(o.n) * time.Second)
	tx, err := o.db.Begin(r.Happened)
	ok(o.t, err)
	id, _, err := tx.Handled(store.Arrival{Source: "test", Key: r.Happened.String()})
	ok(o.t, err)
	salt := func() ([]byte, error) { return make([]byte, 16), nil }
	ok(o.t, tx.Post(1, store.By{Person: 1, Settings: 1, Cause: id}, r, salt))
	ok(o.t, tx.Commit())
}

// photo keeps the photo of the first record.
func (o *opened) photo(data []byte) {
	o.t.Helper()
	digest, err := store.SavePicture(store.Pictures(o.path), data)
	ok(o.t, err)
	tx, err := o.db.Begin(morning)
	ok(o.t, err)
	list, err := o.db.Reader().Unfetched(ctx)
	ok(o.t, err)
	ok(o.t, tx.KeepPicture(list[0], digest))
	ok(o.t, tx.Commit())
}

// A copy made while records are written holds every record that was confirmed
// before it was begun, and proves, with its photos; so does what is restored.
func TestCopyBesideTheWriter(t *testing.T) {
	o := open(t)
	o.photo([]byte("a picture"))
	folder := t.TempDir()
	var writing sync.WaitGroup
	stop := make(chan struct{})
	confirmed := make(chan int64, 1)
	confirmed <- o.n
	writing.Go(func() {
		for o.n < 400 {
			select {
			case <-stop:
				return
			default:
			}
			o.post(books.Record{Kind: books.TopUp, Period: 1, Figures: notes(books.Added)})
			<-confirmed
			confirmed <- o.n
		}
	})
	defer writing.Wait()
	defer close(stop)
	for n := range 3 {
		before := <-confirmed
		confirmed <- before
		m, err := backup.Write(ctx, o.path, folder, morning.Add(time.Duration(n)*time.Hour))
		ok(t, err)
		if int64(m.Entries) < before || m.Photos != 1 || len(m.Faults) > 0 {
			t.Errorf("copy %d: %+v, confirmed before %d", n, m, before)
		}
		info, err := os.Stat(m.Path)
		if err != nil || info.Mode() != 0o600 || info.Size() != m.Bytes {
			t.Errorf("copy %d: %v, %v", n, info, err)
		}
		to := filepath.Join(t.TempDir(), "again.db")
		r, err := backup.Restore(ctx, m.Path, to, morning)
		ok(t, err)
		if r.Entries != m.Entries || r.Photos != 1 || len(r.Faults) > 0 {
			t.Errorf("restored %+v from %+v", r, m)
		}
		db, err := store.Open(ctx, to, morning)
		ok(t, err)
		if c := db.Opened().Case; c != filewatch.WasRestore {
			t.Errorf("the start after finds %s", c)
		}
		ok(t, db.Close())
	}
	if left, _ := filepath.Glob(filepath.Join(folder, "*.part")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A photo of an earlier copy takes no room in the next.
func TestPhotosAreShared(t *testing.T) {
	o, folder := open(t), t.TempDir()
	o.photo([]byte("a picture"))
	var infos []os.FileInfo
	for n := range 2 {
		m, err := backup.Write(ctx, o.path, folder, morning.Add(time.Duration(n)*time.Hour))
		ok(t, err)
		files, err := filepath.Glob(m.Path + ".photos/*")
		if err != nil || len(files) != 1 {
			t.Fatalf("photos %v, %v", files, err)
		}
		info, err := os.Stat(files[0])
		ok(t, err)
		infos = append(infos, info)
	}
	if !os.SameFile(infos[0], infos[1]) {
		t.Error("the photo is there twice")
	}
}

// Nothing is written over: neither by a copy nor by what is restored.
func TestNothingIsWrittenOver(t *testing.T) {
	o := open(t)
	m, err := backup.Write(ctx, o.path, filepath.Join(t.TempDir(), "copy.db"), morning)
	ok(t, err)
	_, err = backup.Write(ctx, o.path, m.Path, morning)
	if err == nil || !strings.Contains(err.Error(), "is there already") {
		t.Errorf("a copy over a copy: %v", err)
	}
	to := filepath.Join(t.TempDir(), "shop.db")
	for _, end := range []string{"", "-wal"} {
		ok(t, os.WriteFile(to+end, []byte("precious"), 0o600))
		_, err := backup.Restore(ctx, m.Path, to, morning)
		kept, bad := os.ReadFile(to + end)
		if err == nil || bad != nil || string(kept) != "precious" {
			t.Errorf("restored over %s: %v; it holds %q", to+end, err, kept)
		}
		ok(t, os.Remove(to+end))
	}
	ok(t, os.WriteFile(to+".mark", []byte("of before"), 0o600))
	_, err = backup.Restore(ctx, m.Path, to, morning)
	ok(t, err)
	if kept, _ := filepath.Glob(to + ".mark.*"); len(kept) != 1 {
		t.Errorf("the mark of before: %v", kept)
	}
}

// What is no whole file of a shop is no copy of one.
func TestNoCopyOfDamage(t *testing.T) {
	o := open(t)
	ok(t, o.db.Close())
	whole, err := os.ReadFile(o.path)
	ok(t, err)
	for name, damage := range map[string]func([]byte) []byte{
		"empty": func([]byte) []byte { return nil },
		"text":  func([]byte) []byte { return []byte("not a database, whatever its name says") },
		"cut":   func(b []byte) []byte { return b[:len(b)/2] },
		"a page of zeros": func(b []byte) []byte {
			c := slices.Clone(b)
			clear(c[5*4096 : 6*4096])
			return c
		},
	} {
		dir := t.TempDir()
		from := filepath.Join(dir, "bad.db")
		ok(t, os.WriteFile(from, damage(whole), 0o600))
		if m, err := backup.Write(ctx, from, filepath.Join(dir, "copy.db"), morning); err == nil {
			t.Errorf("%s: copied: %+v", name, m)
		}
		if left, _ := filepath.Glob(filepath.Join(dir, "copy*")); len(left) > 0 {
			t.Errorf("%s: left behind %v", name, left)
		}
	}
}

// Daily copies: one a day, the newest of each of so many days and months stays,
// and nothing else in the folder is touched.
func TestDaily(t *testing.T) {
	o, folder := open(t), t.TempDir()
	other := filepath.Join(folder, "accounts.txt")
	ok(t, os.WriteFile(other, []byte("mine"), 0o600))
	ok(t, os.Mkdir(filepath.Join(folder, "shopfloat-20260101-000000.db.part"), 0o700)) // left by a kill
	made := 0
	for hour := range 24 * 4 {
		now := morning.Add(time.Duration(hour) * time.Hour)
		_, yes, err := backup.Daily(ctx, o.path, folder, backup.Keep{Days: 2, Months: 1}, now)
		ok(t, err)
		if yes {
			made++
		}
	}
	list, err := filepath.Glob(filepath.Join(folder, "*"))
	ok(t, err)
	if made != 4 || len(list) != 3 || !slices.Contains(list, other) {
		t.Errorf("%d copies made; there are %v", made, list)
	}
	m := backup.Made{Path: "x", Entries: 7}
	ok(t, backup.Note(o.path, m))
	if last, known, err := backup.Last(o.path); err != nil || !known || last.Entries != 7 {
		t.Errorf("noted %+v, %v, %v", last, known, err)
	}
	if _, known, err := backup.Last(filepath.Join(folder, "none")); known || err != nil {
		t.Errorf("a copy of nothing: %v, %v", known, err)
	}
}

// Three years of copies, one a day: two weeks of days and a year of months stay.
func TestLapsed(t *testing.T) {
	k := backup.Keep{Days: 14, Months: 12}
	var kept []time.Time
	for day := range 3 * 365 {
		kept = append(kept, morning.AddDate(0, 0, day))
		gone := k.Lapsed(kept)
		kept = slices.DeleteFunc(kept, func(at time.Time) bool { return slices.Contains(gone, at) })
	}
	months := map[time.Month]bool{}
	for _, at := range kept {
		months[at.Month()] = true
	}
	if len(kept) < 24 || len(kept) > 26 || len(months) != 12 {
		t.Errorf("%d copies of %d months: %v", len(kept), len(months), kept)
	}
	for i, at := range kept[len(kept)-14:] {
		if want := morning.AddDate(0, 0, 3*365-14+i); !at.Equal(want) {
			t.Errorf("the last days: %v, want %v", at, want)
		}
	}
	if gone := (backup.Keep{}).Lapsed(kept[:1]); len(gone) > 0 {
		t.Error("the only copy was let go")
	}
}

// The file itself stays as it is, byte by byte, whatever is copied from it.
func TestTheFileStays(t *testing.T) {
	o := open(t)
	ok(t, o.db.Close())
	sums := func() map[string][32]byte {
		all := map[string][32]byte{}
		for _, end := range []string{"", "-wal", ".mark"} {
			if data, err := os.ReadFile(o.path + end); err == nil && len(data) > 0 {
				all[end] = sha256.Sum256(data)
			} else if err != nil && !errors.Is(err, os.ErrNotExist) {
				t.Fatal(err)
			}
		}
		return all
	}
	before := sums()
	_, err := backup.Write(ctx, o.path, t.TempDir(), morning)
	ok(t, err)
	if after := sums(); !maps.Equal(before, after) {
		t.Error("the file was changed")
	}
}
