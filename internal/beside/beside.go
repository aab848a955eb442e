// Package beside keeps what was sent to somebody at a terminal, where there is no phone to keep it.
package beside

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Keep writes a file into a folder, and gives its path. Another one that is there under its name
// stays; the same one is not written again.
func Keep(folder, name string, data []byte) (string, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", err
	}
	name = filepath.Base(name)
	ends := filepath.Ext(name)
	for n := 1; ; n++ {
		path := filepath.Join(folder, name)
		if n > 1 {
			path = filepath.Join(folder, fmt.Sprintf("%s-%d%s", strings.TrimSuffix(name, ends), n, ends))
		}
		switch there, err := os.ReadFile(path); {
		case err == nil && bytes.Equal(there, data):
			return path, nil
		case errors.Is(err, os.ErrNotExist):
			return path, os.WriteFile(path, data, 0o600)
		case err != nil:
			return "", err
		}
	}
}
