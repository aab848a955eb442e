package main

import (
	"errors"
	"io/fs"
	"os"
	"time"

	"shopfloat/internal/store"
)

// aliveMark remembers when everything sent had last been taken, in the time of
// change of an empty file beside FILE. It is no record: without it open cards
// are not drawn again after an outage.
type aliveMark string

func (m aliveMark) path() string { return store.Beside(string(m), ".alive") }

// last is zero when there is no mark.
func (m aliveMark) last() time.Time {
	info, err := os.Stat(m.path())
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}

func (m aliveMark) set(now time.Time) error {
	err := os.Chtimes(m.path(), now, now)
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return os.WriteFile(m.path(), nil, 0o600)
}
