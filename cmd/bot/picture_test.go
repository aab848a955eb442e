package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Each picture is drawn from a file with a past, and named with what it shows.
func TestPictureCommand(t *testing.T) {
	t.Parallel()
	db := pastFile(t)
	for what, graphs := range map[string]int{"month": 3, "level": 3, "differences": 3, "faults": 2} {
		file := filepath.Join(t.TempDir(), what+".png")
		got := invoke(t, "", "picture", what, "--db", db, "--png", file)
		if !strings.HasPrefix(got, "Example corner shop: ") || !strings.HasSuffix(got, file+"\n") {
			t.Errorf("%s: says %q", what, got)
		}
		if size := pngSize(t, file); size != [2]int{1080, 150 + 420*graphs} {
			t.Errorf("%s: %v", what, size)
		}
	}
}

func pngSize(t *testing.T, file string) [2]int {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return [2]int{img.Bounds().Dx(), img.Bounds().Dy()}
}

// A file with a past, and one of the shop's first day.
func TestLeaksCommand(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "leaks.png")
	got := invoke(t, "", "leaks", "--db", pastFile(t), "--png", file)
	if !strings.Contains(got, "20s: nothing that keeps coming back, 51 closed days looked at.") ||
		pngSize(t, file)[0] != 1080 {
		t.Errorf("%s", got)
	}
	young := filepath.Join(t.TempDir(), "young.db")
	invoke(t, "", "seed", "--db", young, "--shops", "1")
	got = invoke(t, "", "leaks", "--db", young, "--png", filepath.Join(t.TempDir(), "none.png"))
	if strings.Count(got, "too little to tell") != 3 || !strings.Contains(got, "Nothing is known of this") {
		t.Errorf("%s", got)
	}
}

func TestPictureErr(t *testing.T) {
	t.Parallel()
	db := pastFile(t)
	for want, args := range map[string][]string{
		"want month, level, differences or faults": {"picture", "everything", "--db", db, "--png", "x.png"},
		"--png":     {"picture", "month", "--db", db},
		"no shop 7": {"leaks", "--db", db, "--shop", "7"},
	} {
		code, stdout, stderr := command(args...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, want) {
			t.Errorf("%v: exit %d, %q", args, code, stderr)
		}
	}
}
