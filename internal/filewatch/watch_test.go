package filewatch_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/filewatch"
)

var (
	monday = time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)
	sunday = monday.Add(6 * 24 * time.Hour)
)

func ok(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// files makes the files of a database.
func files(t *testing.T) (path string, w *filewatch.Watch) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "shop.db")
	for _, end := range []string{"", "-wal", "-shm", ".lock"} {
		ok(t, os.WriteFile(path+end, []byte(strings.Repeat("x", 4096)), 0o600))
		ok(t, os.Chtimes(path+end, monday, monday))
	}
	return path, filewatch.New(path)
}

// Every accident that a file can have while it is open.
func TestLook(t *testing.T) {
	const same, touched, lost = filewatch.Same, filewatch.Touched, filewatch.Lost
	for name, c := range map[string]struct {
		happens func(path string) error
		want    filewatch.State
		says    string
	}{
		"nothing":         {func(string) error { return nil }, same, ""},
		"file removed":    {os.Remove, lost, "shop.db was removed"},
		"file moved":      {func(p string) error { return os.Rename(p, p+".old") }, lost, "removed"},
		"moved over":      {over, lost, "replaced by another file"},
		"copied over":     {copied, touched, "written to by another"},
		"file cut":        {func(p string) error { return os.Truncate(p, 100) }, lost, "shop.db was cut short"},
		"log removed":     {func(p string) error { return os.Remove(p + "-wal") }, lost, "shop.db-wal was removed"},
		"log cut":         {func(p string) error { return os.Truncate(p+"-wal", 0) }, touched, "shop.db-wal was"},
		"memory removed":  {func(p string) error { return os.Remove(p + "-shm") }, lost, "shop.db-shm was removed"},
		"memory written":  {func(p string) error { return os.Chtimes(p+"-shm", monday, sunday) }, same, ""},
		"lock removed":    {func(p string) error { return os.Remove(p + ".lock") }, touched, "shop.db.lock"},
		"folder removed":  {func(p string) error { return os.RemoveAll(filepath.Dir(p)) }, lost, "removed"},
		"file only read":  {func(p string) error { _, err := os.ReadFile(p); return err }, same, ""},
		"rights changed":  {func(p string) error { return os.Chmod(p, 0o644) }, same, ""},
		"another appears": {func(p string) error { return os.Mkdir(p+".photos", 0o700) }, same, ""},
	} {
		t.Run(name, func(t *testing.T) {
			path, w := files(t)
			ok(t, c.happens(path))
			got := w.Look(false)
			if got.State != c.want || !strings.Contains(got.What, c.says) {
				t.Errorf("%+v, want %v, %q", got, c.want, c.says)
			}
			if again := w.Look(false); again != got {
				t.Errorf("looked at again: %+v, before %+v", again, got)
			}
			if written := w.Look(true); (written.State == filewatch.Lost) != (c.want == filewatch.Lost) {
				t.Errorf("after a commit of the program itself: %+v", written)
			}
			if after := w.Look(false); c.want == filewatch.Lost && after.State != filewatch.Lost {
				t.Errorf("a loss is forgotten: %+v", after)
			}
		})
	}
}

func over(path string) error {
	if err := os.WriteFile(path+".new", []byte(strings.Repeat("y", 4096)), 0o600); err != nil {
		return err
	}
	return os.Rename(path+".new", path)
}

func copied(path string) error {
	return os.WriteFile(path, []byte(strings.Repeat("y", 4096)), 0o600)
}

// What was looked into is no news any more.
func TestAccept(t *testing.T) {
	path, w := files(t)
	ok(t, copied(path))
	w.Accept()
	if f := w.Look(false); f.State != filewatch.Same {
		t.Errorf("accepted, and yet %+v", f)
	}
	if w.Changed().Equal(monday) {
		t.Error("the time of the last change is not known")
	}
}
