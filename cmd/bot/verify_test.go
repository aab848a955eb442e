package main

import (
	"bytes"
	"context"
	"database/sql"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/store"
)

// command runs the program as from a shell.
func command(args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	e := &env{ctx: context.Background(), stdin: strings.NewReader(""), stdout: &out, stderr: &errs}
	code = run(e, args)
	return code, out.String(), errs.String()
}

func TestSeedAndVerify(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "shop.db")
	if code, _, stderr := command("seed", "--shops", "501", "--db", file); code != 0 {
		t.Fatalf("seed: %d, %s", code, stderr)
	}
	if code, _, stderr := command("seed", "--owner", "77", "--db", file); code != 0 {
		t.Fatalf("seed one: %d, %s", code, stderr)
	}
	code, stdout, stderr := command("verify", "--db", file)
	lines := strings.Split(strings.TrimSpace(stdout), "\n")
	if code != 0 || len(lines) != 502 || !strings.HasPrefix(lines[0], "machine 1 (shop 1): ok, entries 0") {
		t.Errorf("verify: %d, %d lines, first %q, %s", code, len(lines), lines[0], stderr)
	}
	for shop, chat := range map[int]string{1: "tg:1000001", 501: "tg:1000501", 502: "tg:77"} {
		if got := ask(t, file, "SELECT shop FROM account WHERE chat = ?", chat); got != shop {
			t.Errorf("%s belongs to shop %d, want %d", chat, got, shop)
		}
	}
	if n := ask(t, file, "SELECT count(DISTINCT person) FROM account"); n != 502 {
		t.Errorf("%d people", n)
	}
	code, _, stderr = command("seed", "--shops", "1", "--db", file)
	if code != 1 || !strings.Contains(stderr, "tg:1000001") {
		t.Errorf("the same again: %d, %s", code, stderr)
	}
}

func TestSeedRefused(t *testing.T) {
	file := filepath.Join(t.TempDir(), "shop.db")
	for _, args := range [][]string{
		{}, {"--shops", "0"}, {"--shops", "-1"}, {"--shops", "1000001"}, {"--shops", "many"},
		{"--owner", "-5"}, {"--shops", "1", "--owner", "5"},
	} {
		code, _, stderr := command(append([]string{"seed", "--db", file}, args...)...)
		if code != 2 || stderr == "" {
			t.Errorf("%v: %d, %q", args, code, stderr)
		}
	}
}

// While a bot has the file nobody else writes to it, and verify reads it.
func TestBesideARunningBot(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "shop.db")
	if code, _, stderr := command("seed", "--shops", "2", "--db", file); code != 0 {
		t.Fatalf("seed: %d, %s", code, stderr)
	}
	db, err := store.Open(context.Background(), file, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	code, _, stderr := command("seed", "--shops", "1", "--db", file)
	if code != 1 || !strings.Contains(stderr, "another shopfloat") {
		t.Errorf("seed: %d, %s", code, stderr)
	}
	code, stdout, stderr := command("verify", "--db", file)
	if code != 0 || strings.Count(stdout, "\n") != 2 {
		t.Errorf("verify: %d, %s%s", code, stdout, stderr)
	}
}

func TestVerifyBroken(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "shop.db")
	if code, _, stderr := command("seed", "--shops", "2", "--db", file); code != 0 {
		t.Fatalf("seed: %d, %s", code, stderr)
	}
	const tamper = `UPDATE machine SET body = replace(body, '"seq":0', '"seq":1') WHERE id = 2`
	if _, err := other(t, file).Exec(tamper); err != nil {
		t.Fatal(err)
	}
	code, stdout, stderr := command("verify", "--db", file)
	want := "machine 2 (shop 2): BROKEN, the books at hand differ from the fold over 0 entries\n" +
		"machine 2 (shop 2): no record yet\n" +
		"machine 2 (shop 2): what to do: The records themselves may be whole;"
	if code != 1 || !strings.Contains(stdout, want) || !strings.HasPrefix(stderr, "1 of 2 machines") {
		t.Errorf("verify: %d\n%s%s", code, stdout, stderr)
	}
	code, withWord, stderr := command("verify", "--db", file, "--word", "nobody ever noted this")
	if code != 1 || withWord != stdout || !strings.HasPrefix(stderr, "1 of 2 machines") ||
		!strings.Contains(stderr, "check word") {
		t.Errorf("with an unknown check word: %d\n%s%s", code, withWord, stderr)
	}
	if code, _, stderr := command("verify", "--db", file+".none"); code != 2 || stderr == "" {
		t.Errorf("a missing file: %d, %s", code, stderr)
	}
}

func other(t *testing.T, file string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+file)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() })
	return db
}

func ask(t *testing.T, file, query string, args ...any) (n int) {
	t.Helper()
	if err := other(t, file).QueryRow(query, args...).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}
