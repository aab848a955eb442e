//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package filewatch

import (
	"io/fs"
	"os"
	"time"
)

// seen is what a file looked like.
type seen struct {
	info    fs.FileInfo
	same    bool // as the one that was seen before
	size    int64
	changed time.Time
}

// look gives what stands under a name, of a link the link itself, beside what was seen there.
func look(path string, was *seen) (*seen, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	return &seen{info: info, same: was != nil && os.SameFile(was.info, info), size: info.Size(),
		changed: info.ModTime()}, nil
}
