//go:build !linux && !darwin && !freebsd && !netbsd && !openbsd && !dragonfly

package file

import "os"

// hold makes the file unless it is there. Here the lock beside it is the only one.
func hold(path string) (*os.File, error) { return os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600) }

func letGo(f *os.File) error { return f.Close() }
