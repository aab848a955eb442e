package checks

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"
)

// Copies gives a function that puts copies of one file in place, which create
// writes when the first is asked for: a file that takes long to create and is to
// be the same for many tests. Only the file itself is copied, nothing beside it.
func Copies(create func(path string) error) func(t testing.TB, to string) {
	read := sync.OnceValues(func() ([]byte, error) {
		dir, err := os.MkdirTemp("", "copies-")
		if err != nil {
			return nil, err
		}
		defer func() { _ = os.RemoveAll(dir) }()
		path := filepath.Join(dir, "file")
		if err := create(path); err != nil {
			return nil, fmt.Errorf("create what is copied: %w", err)
		}
		return os.ReadFile(path)
	})
	return func(t testing.TB, to string) {
		t.Helper()
		data, err := read()
		if err == nil {
			err = os.WriteFile(to, data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}
