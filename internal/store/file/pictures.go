package file

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

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
		return own(folder, 0o700)
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
