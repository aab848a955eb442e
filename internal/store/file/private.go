package file

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"shopfloat/internal/filewatch"
)

// ErrExposed means that others on this computer could read or change what is kept.
var ErrExposed = errors.New("others on this computer can get at it")

// ErrLinked means that a link lies where the program keeps a file of its own.
var ErrLinked = errors.New("is a link, and whoever made it would choose what is written to; remove it")

// What others may do with a file or a folder.
const (
	othersWrite = 0o002
	notOwner    = 0o077
)

// keepPrivate sees to it that only the owner of a file can read it and what lies
// beside it, whatever made them and when. Nothing is opened: closing it again
// would take the locks of whoever in this program has it open.
func keepPrivate(path string) error {
	if err := safeFolder(filepath.Dir(path)); err != nil {
		return err
	}
	for _, name := range []string{path, path + "-wal", path + "-shm", path + "-journal", path + ".lock",
		filewatch.MarkPath(path)} {
		if err := own(name, 0o600); err != nil {
			return err
		}
	}
	return makePrivate(path + ".lock")
}

// safeFolder refuses a folder in which everybody may put another file in the
// place of ours. In a sticky one nobody can remove or rename what is somebody else's.
func safeFolder(folder string) error {
	info, err := os.Stat(folder)
	if err != nil {
		return err
	}
	if info.Mode().Perm()&othersWrite != 0 && info.Mode()&fs.ModeSticky == 0 {
		return fmt.Errorf("%s: everybody may change what lies in this folder; %w: write: chmod o-w %s",
			folder, ErrExposed, folder)
	}
	return nil
}

// own takes the rights of others off a file or folder of the program's, and
// refuses a link in its place.
func own(name string, mode fs.FileMode) error {
	info, err := os.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case info.Mode()&fs.ModeSymlink != 0:
		return fmt.Errorf("%s %w", name, ErrLinked)
	case info.Mode().Perm()&notOwner == 0:
		return nil
	}
	if err := os.Chmod(name, mode); err != nil {
		return fmt.Errorf("%s: %w: write: chmod %o %s (%w)", name, ErrExposed, mode, name, err)
	}
	return nil
}

// makePrivate makes an empty file that only its owner can read, unless it is there.
func makePrivate(name string) error {
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return nil
	}
	if err != nil {
		return err
	}
	return f.Close()
}
