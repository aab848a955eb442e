package filewatch_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"shopfloat/internal/filewatch"
)

func TestMarkComesBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	if _, err := filewatch.ReadMark(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("no mark: %v", err)
	}
	k, err := filewatch.OpenMark(path, filewatch.Mark{Ended: filewatch.Running, At: monday}, false)
	ok(t, err)
	heads := filewatch.Heads{Inbox: 40, Machine: 2, Seq: 7, Hash: bytes.Repeat([]byte{9}, 32)}
	ok(t, k.Committed(heads, monday))
	ok(t, k.Committed(filewatch.Heads{Inbox: 41}, monday)) // a commit without a record
	heads.Inbox = 41
	ok(t, k.Say(filewatch.Closing, strings.Repeat("why ", 100)))
	ok(t, k.Close())
	got, err := filewatch.ReadMark(path)
	ok(t, err)
	if !reflect.DeepEqual(got.Heads, heads) || got.Ended != filewatch.Closing ||
		!strings.HasPrefix(got.Doubt, "why why") {
		t.Errorf("read back %+v", got)
	}
	info, err := os.Stat(filewatch.MarkPath(path))
	if err != nil || info.Size() != 512 || info.Mode() != 0o600 {
		t.Errorf("a mark is one sector that only its owner reads: %+v, %v", info, err)
	}
	if err := filewatch.WriteMark(path, got); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a mark was written over: %v", err)
	}
}

// Whatever a mark is damaged to, it is taken for none rather than believed.
func TestDamagedMarks(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	m := filewatch.Mark{Ended: filewatch.Closed, Heads: filewatch.Heads{Inbox: 12}}
	ok(t, filewatch.WriteMark(path, m))
	whole, err := os.ReadFile(filewatch.MarkPath(path))
	ok(t, err)
	end := bytes.LastIndexByte(bytes.TrimRight(whole, " \n"), '\n') + 9
	for at := range end {
		for _, bit := range []byte{1, 0x80} {
			damaged := bytes.Clone(whole)
			damaged[at] ^= bit
			ok(t, os.WriteFile(filewatch.MarkPath(path), damaged, 0o600))
			if m, err := filewatch.ReadMark(path); err == nil {
				t.Errorf("byte %d changed: %+v", at, m)
			}
		}
		ok(t, os.WriteFile(filewatch.MarkPath(path), whole[:at], 0o600))
		if _, err := filewatch.ReadMark(path); at < end-1 && !errors.Is(err, filewatch.ErrMark) {
			t.Errorf("cut to %d bytes: %v", at, err)
		}
	}
}

// A mark that says what is true no longer is set aside, not written over.
func TestMarkSetAside(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	for n := range 3 {
		m := filewatch.Mark{Ended: filewatch.Running, At: monday, Heads: filewatch.Heads{Inbox: int64(n)}}
		k, err := filewatch.OpenMark(path, m, false)
		ok(t, err)
		ok(t, k.Close())
	}
	names, err := filepath.Glob(filewatch.MarkPath(path) + "*")
	ok(t, err)
	if len(names) != 3 {
		t.Errorf("kept %v", names)
	}
	k, err := filewatch.OpenMark(path, filewatch.Mark{Ended: filewatch.Running, At: monday}, true)
	ok(t, err)
	ok(t, k.Close())
	if again, _ := filepath.Glob(filewatch.MarkPath(path) + "*"); len(again) != 3 {
		t.Errorf("one that may go is kept: %v", again)
	}
}

// FuzzReadMark: nothing that lies in the place of a mark brings a start down.
func FuzzReadMark(f *testing.F) {
	path := filepath.Join(f.TempDir(), "shop.db")
	f.Add([]byte("{}\n00000000\n"))
	f.Add([]byte(`{"ended":"running","at":"2026-01-05T06:00:00Z","inbox":9}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		ok(t, os.WriteFile(filewatch.MarkPath(path), data, 0o600))
		if _, err := filewatch.ReadMark(path); err != nil && !errors.Is(err, filewatch.ErrMark) {
			t.Error(err)
		}
	})
}
