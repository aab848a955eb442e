//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package file

import (
	"errors"
	"fmt"
	"os"
	"syscall"
)

// hold locks the database itself against a second program, should the lock
// beside it be deleted. It does not touch the locks that SQLite puts on ranges
// of the file, so that readers pass. The descriptor is taken before SQLite
// opens the file and closed after: in between, closing any would take SQLite's
// locks.
func hold(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		err = ErrInUse
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", path, err), f.Close())
	}
	return f, nil
}

// letGo ends the lock and closes the file. Closing alone would leave the lock to a program that is
// being started just then, until it lets go of what it was given.
func letGo(f *os.File) error {
	return errors.Join(syscall.Flock(int(f.Fd()), syscall.LOCK_UN), f.Close())
}
