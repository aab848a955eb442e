package filewatch

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// Ended says how the last run of a program with a file came to its end.
type Ended string

// The ends of a run.
const (
	Running  Ended = "running"  // not at all: it runs, or was killed
	Closing  Ended = "closing"  // it was about to close the file
	Closed   Ended = "closed"   // it closed the file
	Restored Ended = "restored" // the file was made out of a copy and has not been opened since
)

// Heads are the newest things a database holds. An inbox row is never numbered
// again, so that a lower number means that something is gone.
type Heads struct {
	Inbox   int64  `json:"inbox"`             // newest row
	Machine int64  `json:"machine,omitempty"` // of the newest entry
	Seq     int64  `json:"seq,omitempty"`
	Hash    []byte `json:"hash,omitempty"`
}

// Mark is what is remembered of a database beside it.
type Mark struct {
	Ended Ended     `json:"ended"`
	At    time.Time `json:"at"`
	Heads
	Doubt string `json:"doubt,omitempty"` // why the program stopped writing, in words
	Bare  bool   `json:"bare,omitempty"`  // there was no log: all was in the file itself
}

// ErrMark means that what is in the place of a mark is none.
var ErrMark = errors.New("is not a mark of shopfloat's")

// markSize is one sector: a power cut leaves the old mark or the new one.
const markSize = 512

// doubtMax leaves room for everything else in a mark.
const doubtMax = 120

// MarkPath is where the mark of a database lies.
func MarkPath(path string) string { return path + ".mark" }

// ReadMark reads the mark of a database; fs.ErrNotExist means that there is none.
func ReadMark(path string) (Mark, error) {
	var m Mark
	data, err := os.ReadFile(MarkPath(path))
	if err != nil {
		return m, err
	}
	line, rest, _ := bytes.Cut(data, []byte("\n"))
	sum, _, _ := bytes.Cut(rest, []byte("\n"))
	if string(sum) != fmt.Sprintf("%08x", crc32.ChecksumIEEE(line)) || json.Unmarshal(line, &m) != nil {
		return Mark{}, fmt.Errorf("%s %w", MarkPath(path), ErrMark)
	}
	return m, nil
}

// bytes gives a mark as it is written, always of the same length.
func (m Mark) bytes() ([]byte, error) {
	if len(m.Doubt) > doubtMax {
		m.Doubt = m.Doubt[:doubtMax]
	}
	line, err := json.Marshal(m)
	if err != nil {
		return nil, err
	}
	data := fmt.Appendf(line, "\n%08x\n", crc32.ChecksumIEEE(line))
	if len(data) >= markSize {
		return nil, fmt.Errorf("a mark of %d bytes", len(data))
	}
	return append(data, append(bytes.Repeat([]byte(" "), markSize-len(data)-1), '\n')...), nil
}

// Marker writes the mark of a database that is open.
type Marker struct {
	path string // of the database
	file *os.File
	mark Mark
}

// OpenMark begins to keep the mark of a database and makes it durable. One that
// is there is set aside when it is none or says what is true no longer: keep
// tells whether it may be written over.
func OpenMark(path string, m Mark, keep bool) (*Marker, error) {
	name := MarkPath(path)
	if _, err := os.Stat(name); err == nil && !keep {
		if err := setAside(name, m.At); err != nil {
			return nil, err
		}
	}
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return nil, err
	}
	k := &Marker{path: path, file: f, mark: m}
	if err := errors.Join(k.write(), f.Sync(), syncFolder(filepath.Dir(name))); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return k, nil
}

// Renew puts the mark back where the next start looks for it. What lies there instead is
// set aside.
func (k *Marker) Renew() error {
	name := MarkPath(k.path)
	mine, err := k.file.Stat()
	if err != nil {
		return err
	}
	there, err := os.Lstat(name)
	switch {
	case err == nil && os.SameFile(mine, there):
		return nil
	case err == nil:
		err = setAside(name, k.mark.At)
	case errors.Is(err, fs.ErrNotExist):
		err = nil
	}
	if err != nil {
		return err
	}
	fresh, err := OpenMark(k.path, k.mark, true)
	if err != nil {
		return err
	}
	err = k.file.Close()
	k.file = fresh.file
	return err
}

// setAside gives a file a name that no other has.
func setAside(name string, at time.Time) error {
	for n := 0; ; n++ {
		aside := fmt.Sprintf("%s.%s.%d", name, at.UTC().Format("20060102-150405"), n)
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			return os.Rename(name, aside)
		}
	}
}

// Heads is what the mark says of the newest things.
func (k *Marker) Heads() Heads { return k.mark.Heads }

// Logged tells whether a database has a log with anything in it.
func Logged(path string) bool {
	info, err := os.Stat(path + "-wal")
	return err == nil && info.Size() > 0
}

// Emptied notes that all that was in the log is in the file itself. A commit takes it back.
func (k *Marker) Emptied() error {
	k.mark.Bare = true
	return k.write()
}

// Committed notes what a commit brought. It is not forced to the disk: a power
// cut may take it back, never let it run ahead of what is durable.
func (k *Marker) Committed(h Heads, at time.Time) error {
	k.mark.Bare = k.mark.Bare && !Logged(k.path) // a commit that wrote nothing leaves no log
	k.mark.Inbox = max(k.mark.Inbox, h.Inbox)
	if h.Seq != 0 {
		k.mark.Machine, k.mark.Seq, k.mark.Hash = h.Machine, h.Seq, h.Hash
	}
	k.mark.At = at
	return k.write()
}

// Say notes, and makes durable, how the run comes to its end.
func (k *Marker) Say(e Ended, doubt string) error {
	k.mark.Ended = e
	if doubt != "" {
		k.mark.Doubt = doubt
	}
	return errors.Join(k.write(), k.file.Sync())
}

// Close lets go of the mark.
func (k *Marker) Close() error { return k.file.Close() }

func (k *Marker) write() error {
	data, err := k.mark.bytes()
	if err != nil {
		return fmt.Errorf("mark: %w", err)
	}
	if _, err := k.file.WriteAt(data, 0); err != nil {
		return fmt.Errorf("mark: %w", err)
	}
	return nil
}

// WriteMark leaves a mark beside a file that is not open, where there is none.
func WriteMark(path string, m Mark) error {
	data, err := m.bytes()
	if err != nil {
		return err
	}
	f, err := os.OpenFile(MarkPath(path), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Sync(), f.Close(), syncFolder(filepath.Dir(path)))
}

// syncFolder makes what was made in a folder durable.
func syncFolder(folder string) error {
	d, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

// Replace leaves a mark beside a file that is not open, and sets aside one that
// is there.
func Replace(path string, m Mark) error {
	if _, err := os.Lstat(MarkPath(path)); err == nil {
		if err := setAside(MarkPath(path), m.At); err != nil {
			return err
		}
	}
	return WriteMark(path, m)
}
