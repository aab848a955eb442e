package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"shopfloat/internal/shop"
)

// Picture is a photo kept with an entry; ID fetches it from where it was sent.
type Picture struct {
	Machine shop.MachineID
	Seq, N  int64
	ID      string
}

// Unfetched lists the photos that are still to be fetched.
func (r *Reader) Unfetched(ctx context.Context) ([]Picture, error) {
	rows, err := r.db.QueryContext(ctx, `SELECT u.machine, u.seq, u.n, a.photo FROM unfetched u
		JOIN attachment a ON a.machine = u.machine AND a.seq = u.seq AND a.n = u.n`)
	if err != nil {
		return nil, fmt.Errorf("photos: %w", err)
	}
	var list []Picture
	err = drain(rows, func(row scanner) error {
		var p Picture
		err := row.Scan(&p.Machine, &p.Seq, &p.N, &p.ID)
		list = append(list, p)
		return err
	})
	return list, err
}

// KeepPicture notes the digest of a photo's file, nil when it cannot be had.
// The file must be durable before.
func (t *Tx) KeepPicture(p Picture, digest []byte) error {
	err := t.exec("INSERT OR IGNORE INTO picture (machine, seq, n, digest) VALUES (?, ?, ?, ?)",
		p.Machine, p.Seq, p.N, orNull(digest))
	if err != nil {
		return fmt.Errorf("photo %d of entry %d: %w", p.N, p.Seq, err)
	}
	return nil
}

// Pictures is the folder beside a file that holds its photos.
func Pictures(file string) string { return Beside(file, ".photos") }

// SavePicture writes a photo under the name of its digest, so that it is whole
// or not there whatever happens meanwhile.
func SavePicture(folder string, data []byte) (digest []byte, err error) {
	if err := makeFolder(folder); err != nil {
		return nil, err
	}
	sum := sha256.Sum256(data)
	name := filepath.Join(folder, hex.EncodeToString(sum[:]))
	f, err := os.CreateTemp(folder, begunName)
	if err != nil {
		return nil, fmt.Errorf("photo: %w", err)
	}
	_, err = f.Write(data)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("photo: %w", err), os.Remove(f.Name()))
	}
	return sum[:], syncFolder(folder)
}

// begunName is the pattern of the names of photos not yet whole.
const begunName = "new-*"

// TidyPictures removes what an end of the program in the middle of writing left
// of photos. Nobody may be writing any meanwhile.
func TidyPictures(folder string) error {
	left, err := filepath.Glob(filepath.Join(folder, begunName))
	for _, name := range left {
		err = errors.Join(err, os.Remove(name))
	}
	if err != nil {
		return fmt.Errorf("photos: %w", err)
	}
	return nil
}

// makeFolder makes the folder of photos unless it is there.
func makeFolder(folder string) error {
	err := os.Mkdir(folder, 0o700)
	switch {
	case errors.Is(err, fs.ErrExist):
		return nil
	case err != nil:
		return fmt.Errorf("photo: %w", err)
	}
	return syncFolder(filepath.Dir(folder))
}

// syncFolder makes what was made or renamed in a folder durable.
func syncFolder(folder string) error {
	d, err := os.Open(folder)
	if err != nil {
		return fmt.Errorf("photo: %w", err)
	}
	return errors.Join(d.Sync(), d.Close())
}

// pictures checks that every photo fetched is there and as it came, and lists
// those that are not: to be fetched yet, or not to be had. An erased one may be gone.
func (v *verifier) pictures(rep *MachineReport) error {
	return v.each(`SELECT a.seq, a.n, p.n IS NOT NULL, p.digest FROM attachment a
		LEFT JOIN picture p ON p.machine = a.machine AND p.seq = a.seq AND p.n = a.n
		WHERE a.machine = ? AND a.photo IS NOT NULL ORDER BY a.seq, a.n`,
		[]any{rep.Machine}, func(row scanner) error {
			var seq, n int64
			var known bool
			var digest []byte
			if err := row.Scan(&seq, &n, &known, &digest); err != nil {
				return err
			}
			switch {
			case !known:
				rep.Absent = append(rep.Absent, fmt.Sprintf("photo %d of entry %d is still to be fetched", n, seq))
			case digest == nil:
				rep.Absent = append(rep.Absent, fmt.Sprintf("photo %d of entry %d could not be fetched", n, seq))
			default:
				return v.picture(rep, seq, n, digest)
			}
			return nil
		})
}

func (v *verifier) picture(rep *MachineReport, seq, n int64, digest []byte) error {
	data, err := os.ReadFile(filepath.Join(v.folder, hex.EncodeToString(digest)))
	sum := sha256.Sum256(data)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		rep.fault("photo %d of entry %d is missing from %s", n, seq, filepath.Base(v.folder))
	case err != nil:
		return err
	case !bytes.Equal(sum[:], digest):
		rep.fault("photo %d of entry %d was changed", n, seq)
	}
	return nil
}
