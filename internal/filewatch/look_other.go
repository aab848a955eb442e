//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package filewatch

import (
	"io/fs"
	"os"
	"time"
)

// seen is what a file looked like.
type seen struct{ info fs.FileInfo }

// look gives what stands under a name, of a link the link itself.
func look(path string) (*seen, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	return &seen{info}, nil
}

func (s *seen) same(o *seen) bool { return os.SameFile(s.info, o.info) }

func (s *seen) size() int64 { return s.info.Size() }

func (s *seen) changed() time.Time { return s.info.ModTime() }
