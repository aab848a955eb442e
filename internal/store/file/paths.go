package file

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"shopfloat/internal/filewatch"
)

// Beside names what is kept beside a file: the ending is put to the name the
// file has where it truly lies, so that every link to it leads to the same one.
func Beside(file, ending string) string {
	full, err := resolve(file)
	if err != nil {
		full = file // opening the file says what is wrong
	}
	return full + ending
}

// parted tells whether a name is a link now, and what belongs to the file lies beside the
// link as if it were the file: somebody moved that alone, and whoever follows the link
// finds it without what was confirmed last.
func parted(path, full string) bool {
	folder, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return false
	}
	name := filepath.Join(folder, filepath.Base(path))
	if name == full {
		return false
	}
	return filewatch.Logged(name) || there(filewatch.MarkPath(name)) && !there(filewatch.MarkPath(full))
}

// resolve follows links to where a file lies, or will lie when it is made: two
// names of one file must not lead to two locks.
func resolve(path string) (string, error) {
	full, err := filepath.EvalSymlinks(path)
	if !errors.Is(err, fs.ErrNotExist) {
		return full, err
	}
	folder, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	name := filepath.Join(folder, filepath.Base(path))
	to, err := os.Readlink(name)
	switch {
	case err != nil:
		return name, nil // no link: not there yet
	case filepath.IsAbs(to):
		return resolve(to)
	}
	return resolve(filepath.Join(folder, to))
}
