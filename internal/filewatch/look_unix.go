//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package filewatch

import (
	"errors"
	"time"

	"golang.org/x/sys/unix"
)

// seen is what a file looked like. The system is asked directly: it is asked ten times at each
// commit, and package os would write down every one of them for go test, which then looks again.
type seen struct{ stat unix.Stat_t }

// look gives what stands under a name, of a link the link itself.
func look(path string) (*seen, error) {
	var s seen
	for {
		if err := unix.Lstat(path, &s.stat); err == nil {
			return &s, nil
		} else if !errors.Is(err, unix.EINTR) {
			return nil, err
		}
	}
}

func (s *seen) same(o *seen) bool { return s.stat.Dev == o.stat.Dev && s.stat.Ino == o.stat.Ino }

func (s *seen) size() int64 { return s.stat.Size }

func (s *seen) changed() time.Time { return time.Unix(s.stat.Mtim.Unix()) }
