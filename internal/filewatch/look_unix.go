//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package filewatch

import (
	"errors"
	"time"

	"golang.org/x/sys/unix"
)

// seen is what a file looked like. The system is asked directly: it is asked ten times at each
// commit, and package os would write down every one of them for go test, which then looks again.
type seen struct {
	stat    unix.Stat_t
	same    bool // as the one that was seen before
	size    int64
	changed time.Time
}

// look gives what stands under a name, of a link the link itself, beside what was seen there.
func look(path string, was *seen) (*seen, error) {
	var s seen
	err := unix.Lstat(path, &s.stat)
	for errors.Is(err, unix.EINTR) {
		err = unix.Lstat(path, &s.stat)
	}
	if err != nil {
		return nil, err
	}
	s.same = was != nil && s.stat.Dev == was.stat.Dev && s.stat.Ino == was.stat.Ino
	s.size, s.changed = s.stat.Size, time.Unix(s.stat.Mtim.Unix())
	return &s, nil
}
