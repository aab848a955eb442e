// Package backup makes copies of a file beside the program that writes to it,
// tries each out as if it were to be started from, and puts one back. A copy is
// whole or not there, and nothing that lies in its place is written over.
package backup

import (
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"shopfloat/internal/filewatch"
	"shopfloat/internal/store"
)

// Made tells of a copy. Faults are those that the file itself has.
type Made struct {
	Path    string                `json:"path"`
	At      time.Time             `json:"at"`
	Newest  time.Time             `json:"newest"` // the newest instant of which it tells
	Entries int                   `json:"entries"`
	Photos  int                   `json:"photos"`
	Bytes   int64                 `json:"bytes"`
	Faults  []string              `json:"faults,omitempty"`
	Reports []store.MachineReport `json:"-"`
}

// part ends the name of a folder in which a copy is made; one that is left was
// left by an end in the middle.
const part = ".part"

// Write makes a copy of a file under a name, or under the day and time in a
// folder. Its photos go into a folder of its own, NAME.photos.
func Write(ctx context.Context, file, to string, now time.Time) (Made, error) {
	if info, err := os.Stat(to); err == nil && info.IsDir() {
		to = filepath.Join(to, Name(now))
	}
	m := Made{Path: to, At: now.UTC().Truncate(time.Second)}
	if err := free(to); err != nil {
		return m, err
	}
	work := to + part
	if err := errors.Join(os.RemoveAll(work), os.Mkdir(work, 0o700)); err != nil {
		return m, fmt.Errorf("backup: %w", err)
	}
	err := m.write(ctx, file, work, now)
	if err != nil {
		err = fmt.Errorf("backup: %w", err)
	}
	return m, errors.Join(err, os.RemoveAll(work))
}

func (m *Made) write(ctx context.Context, file, work string, now time.Time) error {
	db := filepath.Join(work, "copy.db")
	if err := store.Copy(ctx, file, db); err != nil {
		return err
	}
	if err := m.tryOut(ctx, db, store.Pictures(file), store.Pictures(m.Path), now); err != nil {
		return err
	}
	return place(db, m.Path)
}

// tryOut opens a copy as a start does, with what photos it needs, and proves it.
// What it writes in doing so, an older file's new tables above all, stays.
func (m *Made) tryOut(ctx context.Context, copied, from, photos string, now time.Time) error {
	db, err := store.Open(ctx, copied, now)
	if err != nil {
		return err
	}
	if err := m.prove(ctx, db.Reader(), from, photos); err != nil {
		return errors.Join(err, db.Close())
	}
	if err := db.Close(); err != nil {
		return err
	}
	info, err := os.Stat(copied)
	if err == nil {
		m.Bytes = info.Size()
		err = store.SyncFile(copied)
	}
	return err
}

func (m *Made) prove(ctx context.Context, r *store.Reader, from, photos string) (err error) {
	if err := r.Sound(ctx); err != nil {
		return err
	}
	if m.Photos, err = copyPhotos(ctx, r, from, photos); err != nil {
		return err
	}
	if m.Reports, err = r.VerifyWith(ctx, photos); err != nil {
		return err
	}
	for _, rep := range m.Reports {
		m.Entries += rep.Entries
		for _, f := range rep.Faults {
			m.Faults = append(m.Faults, fmt.Sprintf("machine %d: %s", rep.Machine, f))
		}
	}
	m.Newest, err = r.Latest(ctx)
	return err
}

// copyPhotos puts the photos of a file into a folder, each under its digest. One
// that is there already is the same. One that cannot be had is a fault of the
// file, which the proof finds.
func copyPhotos(ctx context.Context, r *store.Reader, from, to string) (n int, err error) {
	list, err := r.Photos(ctx)
	if err != nil {
		return 0, err
	}
	for _, digest := range list {
		name := hex.EncodeToString(digest)
		if _, err := os.Stat(filepath.Join(to, name)); err == nil {
			n++
			continue
		}
		if linked(filepath.Dir(to), name, to) {
			n++
			continue
		}
		data, err := os.ReadFile(filepath.Join(from, name))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil {
			_, err = store.SavePicture(to, data)
		}
		if err != nil {
			return n, err
		}
		n++
	}
	return n, nil
}

// linked takes a photo from an earlier copy in the same folder, where it needs
// no room of its own. Photos never change.
func linked(folder, name, to string) bool {
	others, err := filepath.Glob(filepath.Join(folder, "*.photos", name))
	if err != nil || len(others) == 0 || !isCopy(strings.TrimSuffix(filepath.Dir(others[0]), ".photos")) {
		return false
	}
	if err := os.Mkdir(to, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return false
	}
	return os.Link(others[len(others)-1], filepath.Join(to, name)) == nil
}

// place gives a copy its name, where none has it.
func place(made, to string) error {
	if err := os.Link(made, to); err != nil {
		return err
	}
	return store.SyncFolder(filepath.Dir(to))
}

// free refuses a name that something has.
func free(to string) error {
	for _, end := range []string{"", "-wal"} {
		info, err := os.Lstat(to + end)
		if errors.Is(err, fs.ErrNotExist) || err == nil && end != "" && info.Size() == 0 {
			continue
		}
		if err == nil {
			err = fmt.Errorf("%s is there already; nothing is written over it: move it away, or name another file",
				to+end)
		}
		return err
	}
	return nil
}

// Restore puts a copy in the place of a file that is not there, and proves it.
// A mark tells the next start that people are to be told. Photos that lie beside
// the file stay.
func Restore(ctx context.Context, copied, file string, now time.Time) (Made, error) {
	m := Made{Path: file, At: now.UTC().Truncate(time.Second)}
	if err := free(file); err != nil {
		return m, err
	}
	work := file + part
	if err := errors.Join(os.RemoveAll(work), os.Mkdir(work, 0o700)); err != nil {
		return m, fmt.Errorf("restore: %w", err)
	}
	err := m.restore(ctx, copied, work, now)
	if err != nil {
		err = fmt.Errorf("restore: %w", err)
	}
	return m, errors.Join(err, os.RemoveAll(work))
}

func (m *Made) restore(ctx context.Context, copied, work string, now time.Time) error {
	db := filepath.Join(work, "copy.db")
	if err := store.Copy(ctx, copied, db); err != nil {
		return err
	}
	if err := m.tryOut(ctx, db, store.Pictures(copied), store.Pictures(m.Path), now); err != nil {
		return err
	}
	r, err := store.OpenReader(ctx, db)
	if err != nil {
		return err
	}
	heads, err := r.Heads(ctx)
	if err = errors.Join(err, r.Close()); err != nil {
		return err
	}
	mark := filewatch.Mark{Ended: filewatch.Restored, At: m.At, Heads: heads}
	if err := filewatch.Replace(m.Path, mark); err != nil {
		return err
	}
	return place(db, m.Path)
}
