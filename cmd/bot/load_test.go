package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestLoadChats plays the scripts of testdata/load on a file with a past.
func TestLoadChats(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/load/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatal("no scripts", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			got := invoke(t, read(t, file), "chat", "--db", pastFile(t), "--script", "-")
			compare(t, strings.TrimSuffix(file, ".txt")+".golden", got)
		})
	}
}

// A card from yesterday goes on about today, not about yesterday.
func TestLoadNextDay(t *testing.T) {
	t.Parallel()
	const thursday = "@2026-11-26 06:30\nload\n"
	db := pastFile(t)
	first := invoke(t, "@2026-11-25 06:40\nload\n", "chat", "--db", db, "--script", "-")
	again := invoke(t, thursday, "chat", "--db", db, "--script", "-")
	want := strings.SplitAfter(invoke(t, thursday, "chat", "--db", pastFile(t), "--script", "-"), "\n")
	table := strings.Join(want[len(want)-10:], "")
	if !strings.HasSuffix(again, table) || strings.HasSuffix(first, table) {
		t.Errorf("on Wednesday\n%s\non Thursday\n%s\nwant\n%s", first, again, table)
	}
}

func compare(t *testing.T, golden, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want := read(t, golden); got != want {
		t.Errorf("not as in %s:\n%s", golden, difference(want, got))
	}
}

// What the commands print is the advice of the chat, and the picture is one.
func TestLoadAndBacktestCommands(t *testing.T) {
	t.Parallel()
	db, picture := pastFile(t), filepath.Join(t.TempDir(), "advice.png")
	got := invoke(t, "", "load", "--db", db, "--on", "2026-11-25")
	got += invoke(t, "", "backtest", "--db", db, "--png", picture)
	compare(t, "../../testdata/load/commands.golden", got)
	data, err := os.ReadFile(picture)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := png.Decode(bytes.NewReader(data)); err != nil {
		t.Error(err)
	}
}

func TestLoadMisuse(t *testing.T) {
	db := filepath.Join(t.TempDir(), "young.db")
	writePast(t, db, 0)
	for name, c := range map[string]struct {
		args []string
		code string
		want string
	}{
		"no file":         {[]string{"load", "--db", db + ".not"}, "exit 2", "no such file"},
		"no shop":         {[]string{"backtest", "--db", db, "--shop", "7"}, "exit 2", "no shop 7"},
		"bad date":        {[]string{"load", "--db", db, "--on", "tomorrow"}, "exit 2", "--on"},
		"no days":         {[]string{"backtest", "--db", db, "--days", "0"}, "exit 2", "--days 0"},
		"nothing yet":     {[]string{"load", "--db", db}, "exit 1", "no closed day yet"},
		"nothing to test": {[]string{"backtest", "--db", db}, "", "too early"},
	} {
		got := invoke(t, "", c.args...)
		if !strings.Contains(got, c.want) || !strings.Contains(got, c.code) {
			t.Errorf("%s: %s", name, got)
		}
	}
}
