//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package file

import (
	"errors"
	"path/filepath"
	"syscall"
	"testing"
)

// A program that is being started has every descriptor of its parent for a moment. It must not keep the
// lock of a file that is let go of meanwhile.
func TestLetGoOfACopiedDescriptor(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	f, err := hold(path)
	if err != nil {
		t.Fatal(err)
	}
	copied, err := syscall.Dup(int(f.Fd()))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = syscall.Close(copied) }()
	if _, err := hold(path); !errors.Is(err, ErrInUse) {
		t.Errorf("held twice: %v", err)
	}
	if err := letGo(f); err != nil {
		t.Error(err)
	}
	again, err := hold(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := letGo(again); err != nil {
		t.Error(err)
	}
}
