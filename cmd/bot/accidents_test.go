//go:build linux

package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/sys/unix"
)

// ending is how a bot comes out of an accident.
type ending string

const (
	stops     ending = "ends by itself, its log says what to do"
	carriesOn ending = "goes on, and rightly"
	waits     ending = "books nothing until it is mended, then goes on by itself"
	refuses   ending = "is not started, says what to do"
	starts    ending = "starts, and rightly"
)

// fileAccident is something that befalls the file of a bot.
type fileAccident struct {
	name    string
	dead    bool // the bot was killed before
	user    bool // the rights of a file mean something: nobody has them all
	happens func(w *wreck) error
	mends   func(w *wreck) error // what a person does about it; nil: nothing
	ends    ending
	loses   bool // what came since the last copy is gone, where that is put back
}

// fileAccidents are told in the order in which the document has them.
func fileAccidents() []fileAccident {
	return append(fileAccidentsAtWork(), fileAccidentsBetween()...)
}

func fileAccidentsAtWork() []fileAccident {
	return []fileAccident{
		{name: "file removed", happens: removed(""), ends: stops},
		{name: "file moved", happens: movedAway(""), ends: stops},
		{name: "older copy moved over it", happens: func(w *wreck) error {
			return errors.Join(copyOver(w.file+".old", w.file+".new"), os.Rename(w.file+".new", w.file))
		}, ends: stops},
		{name: "older copy copied over it", happens: func(w *wreck) error {
			return copyOver(w.file+".old", w.file)
		}, ends: stops, loses: true},
		{name: "another program's file copied over it", happens: func(w *wreck) error {
			return os.WriteFile(w.file, bytes.Repeat([]byte("accounts of the year "), 50_000), 0o600)
		}, ends: stops, loses: true},
		{name: "another shop's file moved over it", happens: func(w *wreck) error {
			return os.Rename(w.other(), w.file)
		}, ends: stops},
		{name: "file cut to nothing", happens: cutTo("", 0), ends: stops, loses: true},
		{name: "file cut in the middle", happens: cutTo("", 8192), ends: stops, loses: true},
		{name: "one bit of the file turned", happens: turnedPage, ends: stops, loses: true},
		{name: "one bit of the log turned", happens: turnedLog, ends: stops, loses: true},
		{name: "file became a link to where it was moved", happens: linkedAway, ends: stops},
		{name: "log removed", happens: removed("-wal"), ends: stops},
		{name: "log cut to nothing", happens: cutTo("-wal", 0), ends: stops, loses: true},
		{name: "log cut in the middle", happens: cutTo("-wal", 9000), ends: stops, loses: true},
		{name: "log of another shop moved over it", happens: func(w *wreck) error {
			return os.Rename(w.other()+"-wal", w.file+"-wal")
		}, ends: stops},
		{name: "shared memory removed", happens: removed("-shm"), ends: stops},
		{name: "all files removed", happens: func(w *wreck) error {
			return errors.Join(os.Remove(w.file), os.Remove(w.file+"-wal"), os.Remove(w.file+"-shm"),
				os.Remove(w.file+".lock"), os.Remove(w.file+".mark"))
		}, ends: stops},
		{name: "lock removed", happens: removed(".lock"), ends: carriesOn},
		{name: "mark removed", happens: removed(".mark"), ends: carriesOn},
		{name: "mark of another file moved over it", happens: func(w *wreck) error {
			return os.Rename(w.other()+".mark", w.file+".mark")
		}, ends: carriesOn},
		{name: "journal of another file put beside it", happens: strangeJournal, mends: journalRemoved,
			ends: carriesOn},
		{name: "folder made read-only", user: true, happens: func(w *wreck) error {
			return os.Chmod(filepath.Dir(w.file), 0o500)
		}, ends: carriesOn},
		{name: "rights to the file taken", user: true, happens: func(w *wreck) error {
			return os.Chmod(w.file, 0)
		}, ends: carriesOn},
		{name: "disk full", happens: diskFull, mends: diskFreed, ends: waits},
	}
}

// fileAccidentsBetween befall a file whose bot was killed.
func fileAccidentsBetween() []fileAccident {
	list := []fileAccident{
		{name: "file removed", happens: removed(""), ends: refuses, loses: true},
		{name: "file emptied", happens: cutTo("", 0), ends: refuses, loses: true},
		{name: "log removed", happens: removed("-wal"), ends: refuses, loses: true},
		{name: "log cut in the middle", happens: cutTo("-wal", 9000), ends: refuses, loses: true},
		{name: "one bit in the middle of the log turned", happens: func(w *wreck) error {
			info, err := os.Stat(w.file + "-wal")
			if err != nil {
				return err
			}
			return turn(w.file+"-wal", info.Size()/2) // what comes behind it does not count any more
		}, ends: refuses, loses: true},
		{name: "older copy in its place", happens: func(w *wreck) error {
			return errors.Join(os.Remove(w.file+"-wal"), os.Rename(w.file+".old", w.file))
		}, ends: refuses, loses: true},
		{name: "another shop's file in its place", happens: func(w *wreck) error {
			return errors.Join(os.Remove(w.file+"-wal"), os.Rename(w.other(), w.file))
		}, ends: refuses, loses: true},
		{name: "file became a link to where it was moved", happens: linkedAway, ends: refuses, loses: true},
		{name: "mark removed", happens: removed(".mark"), ends: starts},
		{name: "mark of another file in its place", happens: func(w *wreck) error {
			return os.Rename(w.other()+".mark", w.file+".mark")
		}, ends: refuses, loses: true},
		{name: "journal of another file put beside it", happens: strangeJournal, mends: journalRemoved,
			ends: starts},
	}
	for i := range list {
		list[i].name, list[i].dead = "killed; "+list[i].name, true
	}
	return list
}

func removed(end string) func(*wreck) error {
	return func(w *wreck) error { return os.Remove(w.file + end) }
}

func movedAway(end string) func(*wreck) error {
	return func(w *wreck) error { return os.Rename(w.file+end, w.file+end+".away") }
}

func cutTo(end string, to int64) func(*wreck) error {
	return func(w *wreck) error { return os.Truncate(w.file+end, to) }
}

// turnedPage turns a bit that says of what kind a page of the file is.
func turnedPage(w *wreck) error { return turn(w.file, 3*4096) }

// turnedLog does so with the newest such page of the log: behind the log's head of 32 bytes
// each page has a head of 24, and a page of a tree begins with 2, 5, 10 or 13
// (sqlite.org/fileformat2.html, 1.6 and 4.1).
func turnedLog(w *wreck) error {
	data, err := os.ReadFile(w.file + "-wal")
	if err != nil {
		return err
	}
	const frame = 24 + 4096
	for at := 32 + (len(data)-32)/frame*frame - 4096; at > 0; at -= frame {
		if bytes.IndexByte([]byte{2, 5, 10, 13}, data[at]) >= 0 {
			return turn(w.file+"-wal", int64(at))
		}
	}
	return errors.New("no page in the log")
}

// turn turns one bit where it lies.
func turn(name string, at int64) error {
	f, err := os.OpenFile(name, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	b := make([]byte, 1)
	_, err = f.ReadAt(b, at)
	if err == nil {
		b[0] ^= 4
		_, err = f.WriteAt(b, at)
	}
	return errors.Join(err, f.Close())
}

// linkedAway moves the file to another folder and leaves a link to it, as somebody does
// who wants room on a disk.
func linkedAway(w *wreck) error {
	to := filepath.Join(filepath.Dir(w.file), "roomy")
	if err := os.Mkdir(to, 0o755); err != nil {
		return err
	}
	name := filepath.Join(to, "shop.db")
	return errors.Join(os.Rename(w.file, name), os.Symlink(name, w.file))
}

// strangeJournal puts a rollback journal beside the file that is none of its own: its head
// is that of one, as the format is described (sqlite.org/fileformat2.html, 3).
func strangeJournal(w *wreck) error {
	head := []byte{0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7, 0, 0, 0, 1, 1, 2, 3, 4, 0, 0, 0, 9,
		0, 0, 2, 0, 0, 0, 16, 0}
	page := bytes.Repeat([]byte("somebody's page "), 256)
	data := append(append(head, make([]byte, 512-len(head))...), 0, 0, 0, 2)
	return os.WriteFile(w.file+"-journal", append(append(data, page...), 0, 0, 0, 0), 0o600)
}

// journalRemoved does what a start says that finds such a journal.
func journalRemoved(w *wreck) error {
	w.serve()
	if err := w.waits(); err == nil || !strings.Contains(w.stderr.String(), "shop.db-journal is here") {
		w.t.Errorf("it started, or does not say why not: %v\n%s", err, &w.stderr)
	}
	return os.Remove(w.file + "-journal")
}

// diskFull lets no file of the bot's grow beyond what its log is now, so that the system
// refuses what is written next. A disk that is full does so with another number; the store
// takes both for the disk's fault.
func diskFull(w *wreck) error {
	info, err := os.Stat(w.file + "-wal")
	if err != nil {
		return err
	}
	return unix.Prlimit(w.bot.Process.Pid, unix.RLIMIT_FSIZE,
		&unix.Rlimit{Cur: uint64(max(info.Size(), 1024)), Max: unix.RLIM_INFINITY}, nil)
}

func diskFreed(w *wreck) error {
	return unix.Prlimit(w.bot.Process.Pid, unix.RLIMIT_FSIZE,
		&unix.Rlimit{Cur: unix.RLIM_INFINITY, Max: unix.RLIM_INFINITY}, nil)
}
