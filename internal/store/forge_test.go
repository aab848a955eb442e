package store

import (
	"context"
	"database/sql"
	"errors"
)

// Forge does what somebody does who edited entries of machine 1 and knows how
// they are hashed: those from one number to another get hashes anew, each on
// the one before, and the machine's head follows the last entry.
func Forge(db *sql.DB, from, to int64) error {
	rows, err := readEntries(func(q string, args []any, scan func(scanner) error) error {
		rows, err := db.QueryContext(context.Background(), q, args...)
		if err != nil {
			return err
		}
		return drain(rows, scan)
	}, 1)
	if err != nil {
		return err
	}
	prev := make([]byte, hashSize)
	for _, e := range rows {
		if e.seq >= from && e.seq <= to {
			if e.seq > from {
				e.prev = prev
			}
			e.hash = entryHash(e)
			_, bad := db.Exec(
				"UPDATE entry SET prev = ?, hash = ? WHERE machine = 1 AND seq = ?",
				e.prev,
				e.hash,
				e.seq,
			)
			err = errors.Join(err, bad)
		}
		prev = e.hash
	}
	_, bad := db.Exec("UPDATE machine SET head = ? WHERE id = 1", prev)
	return errors.Join(err, bad)
}

// ForgeSettings does the same to one version of shop 1's settings.
func ForgeSettings(db *sql.DB, version int64) error {
	var since int64
	var body []byte
	prev := make([]byte, hashSize)
	err := db.QueryRow("SELECT since, body FROM settings WHERE shop = 1 AND version = ?", version).
		Scan(&since, &body)
	if err != nil {
		return err
	}
	if version > 1 {
		err = db.QueryRow("SELECT hash FROM settings WHERE shop = 1 AND version = ?", version-1).Scan(&prev)
	}
	_, bad := db.Exec("UPDATE settings SET hash = ? WHERE shop = 1 AND version = ?",
		settingsHash(1, version, since, body, prev), version)
	return errors.Join(err, bad)
}
