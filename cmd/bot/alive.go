package main

import (
	"errors"
	"fmt"
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
	info, err := os.Lstat(m.path())
	if err != nil || !info.Mode().IsRegular() {
		return time.Time{}
	}
	return info.ModTime()
}

func (m aliveMark) set(now time.Time) error {
	info, err := os.Lstat(m.path())
	switch {
	case errors.Is(err, fs.ErrNotExist):
		f, err := os.OpenFile(m.path(), os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		if err != nil {
			return err
		}
		return f.Close()
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s %w", m.path(), store.ErrLinked)
	}
	return os.Chtimes(m.path(), now, now)
}
