package store_test

import (
	"context"
	"database/sql"
	"errors"

	"shopfloat/internal/store/file"
	records "shopfloat/internal/store/ledger"
	"shopfloat/internal/store/people"
	"shopfloat/internal/store/seal"
)

// forge does what somebody does who edited entries of machine 1 and knows how
// they are hashed: those from one number to another get hashes anew, each on
// the one before, and the machine's head follows the last entry.
func forge(db *sql.DB, from, to int64) error {
	rows, err := records.ReadEntries(file.On(context.Background(), db), 1)
	if err != nil {
		return err
	}
	prev := make([]byte, seal.Size)
	for _, e := range rows {
		if e.Seq >= from && e.Seq <= to {
			if e.Seq > from {
				e.Prev = prev
			}
			e.Hash = records.Hash(e)
			_, bad := db.Exec(
				"UPDATE entry SET prev = ?, hash = ? WHERE machine = 1 AND seq = ?",
				e.Prev,
				e.Hash,
				e.Seq,
			)
			err = errors.Join(err, bad)
		}
		prev = e.Hash
	}
	_, bad := db.Exec("UPDATE machine SET head = ? WHERE id = 1", prev)
	return errors.Join(err, bad)
}

// forgeSettings does the same to one version of shop 1's settings.
func forgeSettings(db *sql.DB, version int64) error {
	var since int64
	var body []byte
	prev := make([]byte, seal.Size)
	err := db.QueryRow("SELECT since, body FROM settings WHERE shop = 1 AND version = ?", version).
		Scan(&since, &body)
	if err != nil {
		return err
	}
	if version > 1 {
		err = db.QueryRow("SELECT hash FROM settings WHERE shop = 1 AND version = ?", version-1).Scan(&prev)
	}
	_, bad := db.Exec("UPDATE settings SET hash = ? WHERE shop = 1 AND version = ?",
		people.SettingsHash(1, version, since, body, prev), version)
	return errors.Join(err, bad)
}
