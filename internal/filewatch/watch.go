// Package filewatch tells whether a database's files are still the ones that
// are written to, and whether a file that is found at a start is the one that
// was left at the last end. It looks at names, sizes and times, and at a small
// mark of its own beside the file; what a database holds it is told.
//
// It never opens the database's files: closing one again would take the locks
// of whoever in this program uses them.
package filewatch

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"time"
)

// State says what has become of files since they were last seen.
type State int

// The states of files.
const (
	Same    State = iota
	Touched       // somebody else wrote to one: what it holds is to be looked at
	Lost          // one is gone, cut short, or another one: what is written goes nowhere
)

// Finding is what was seen of files.
type Finding struct {
	State State
	What  string // in words, with the file's name; empty for Same
}

// part is one of the files of a database.
type part struct {
	path  string
	rules rules
	info  *seen // as last seen; nil: not there
}

// rules say what may happen to a part without anybody's doing.
type rules struct {
	spare  bool // its loss is no loss of records
	shrink bool // it may become smaller
	times  bool // its time of change says that somebody wrote to it
}

// Watch looks at the files of a database that is open. It is not safe for use
// by several goroutines at once.
type Watch struct {
	parts []part
	lost  Finding // once one is lost, nothing that comes in its place makes that good
}

// New looks at the files of a database for the first time, once all of them are
// there. The lock beside it is looked at too: without it a second program would
// be kept off by the lock on the file alone. So is the mark, which has to be where the
// next start looks for it. A link in the place of one is another file, even to the same
// one: the log that belongs to it would be looked for where the link leads.
func New(path string) *Watch {
	w := &Watch{parts: []part{
		{path: path, rules: rules{times: true}},
		{path: path + "-wal", rules: rules{shrink: true, times: true}},
		{path: path + "-shm"},
		{path: path + ".lock", rules: rules{spare: true, shrink: true}},
		{path: MarkPath(path), rules: rules{spare: true, shrink: true}},
	}}
	w.Accept()
	return w
}

// Accept takes what is there now as it should be: the program itself wrote it,
// or it has been looked into.
func (w *Watch) Accept() {
	for i := range w.parts {
		w.parts[i].info, _ = look(w.parts[i].path, nil) // what is not there is told when it is missed
	}
}

// Look compares what is there with what was, and gives the worst of it. What the program
// itself wrote since is taken as it should be where wrote says so: then only a file that
// is gone, cut short or another one is found.
func (w *Watch) Look(wrote bool) Finding {
	worst := w.lost
	for i := range w.parts {
		p := &w.parts[i]
		now, err := look(p.path, p.info)
		if f := p.compare(now, err); f.State > worst.State {
			worst = f
		}
		if wrote && err == nil && now.same {
			p.info = now
		}
	}
	if worst.State == Lost {
		w.lost = worst
	}
	if wrote {
		return w.lost
	}
	return worst
}

func (p *part) compare(now *seen, err error) Finding {
	name := filepath.Base(p.path)
	lost := Lost
	if p.rules.spare {
		lost = Touched
	}
	switch {
	case p.info == nil && err != nil:
		return Finding{}
	case p.info == nil:
		return Finding{Touched, name + " appeared"}
	case errors.Is(err, fs.ErrNotExist):
		return Finding{lost, name + " was removed"}
	case err != nil:
		return Finding{lost, fmt.Sprintf("%s cannot be looked at: %v", name, err)}
	case !now.same:
		return Finding{lost, name + " was replaced by another file"}
	case now.size < p.info.size && !p.rules.shrink:
		return Finding{lost, name + " was cut short"}
	case p.rules.times && (now.size != p.info.size || !now.changed.Equal(p.info.changed)):
		return Finding{Touched, name + " was written to by another program"}
	}
	return Finding{}
}

// Changed gives when the database itself was last written to, by its time.
func (w *Watch) Changed() time.Time {
	if w.parts[0].info == nil {
		return time.Time{}
	}
	return w.parts[0].info.changed
}
