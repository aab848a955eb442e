package checks_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"shopfloat/internal/checks"
)

// One file is created however many copies there are.
func TestCopies(t *testing.T) {
	created := 0
	put := checks.Copies(func(path string) error {
		created++
		return os.WriteFile(path, []byte("once"), 0o600)
	})
	for _, name := range []string{"a", "b"} {
		to := filepath.Join(t.TempDir(), name)
		put(t, to)
		if data, err := os.ReadFile(to); err != nil || string(data) != "once" {
			t.Errorf("%s holds %q, %v", name, data, err)
		}
	}
	if created != 1 {
		t.Errorf("created %d times", created)
	}
}

// A test whose file cannot be created fails and says why.
func TestCopiesErr(t *testing.T) {
	w, done := &watched{TB: t}, make(chan struct{})
	go func() {
		defer close(done)
		checks.Copies(func(string) error { return errors.New("no room") })(w, filepath.Join(t.TempDir(), "a"))
		runtime.Goexit()
	}()
	<-done
	if !strings.Contains(w.said, "no room") {
		t.Errorf("said %q", w.said)
	}
}
