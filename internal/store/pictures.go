package store

import (
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

// Unfetched lists the photos that are still to be fetched, the oldest first.
func (r *Reader) Unfetched(ctx context.Context) ([]Picture, error) {
	rows, err := r.db.QueryContext(ctx, `SELECT a.machine, a.seq, a.n, a.photo FROM attachment a
		LEFT JOIN picture p ON p.machine = a.machine AND p.seq = a.seq AND p.n = a.n
		WHERE a.photo IS NOT NULL AND p.n IS NULL ORDER BY a.seq`)
	if err != nil {
		return nil, fmt.Errorf("photos: %w", err)
	}
	defer func() { _ = rows.Close() }() // an error shows in Err
	var list []Picture
	for rows.Next() {
		var p Picture
		if err := rows.Scan(&p.Machine, &p.Seq, &p.N, &p.ID); err != nil {
			return nil, fmt.Errorf("photos: %w", err)
		}
		list = append(list, p)
	}
	return list, rows.Err()
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
func Pictures(file string) string { return file + ".photos" }

// SavePicture writes a photo under the name of its digest, so that it is whole
// or not there whatever happens meanwhile.
func SavePicture(folder string, data []byte) (digest []byte, err error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, fmt.Errorf("photo: %w", err)
	}
	sum := sha256.Sum256(data)
	name := filepath.Join(folder, hex.EncodeToString(sum[:]))
	f, err := os.CreateTemp(folder, "new-*")
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

// syncFolder makes a rename durable.
func syncFolder(folder string) error {
	d, err := os.Open(folder)
	if err != nil {
		return fmt.Errorf("photo: %w", err)
	}
	return errors.Join(d.Sync(), d.Close())
}

// pictures checks that every photo fetched is there and as it came.
func (v *verifier) pictures(rep *MachineReport) error {
	return v.each("SELECT seq, n, digest FROM picture WHERE machine = ? AND digest IS NOT NULL ORDER BY seq, n",
		[]any{rep.Machine}, func(row scanner) error {
			var seq, n int64
			var digest []byte
			if err := row.Scan(&seq, &n, &digest); err != nil {
				return err
			}
			data, err := os.ReadFile(filepath.Join(v.folder, hex.EncodeToString(digest)))
			switch sum := sha256.Sum256(data); {
			case errors.Is(err, fs.ErrNotExist):
				rep.fault("photo %d of entry %d is missing from %s", n, seq, filepath.Base(v.folder))
			case err != nil:
				return err
			case string(sum[:]) != string(digest):
				rep.fault("photo %d of entry %d was changed", n, seq)
			}
			return nil
		})
}
