package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// What a made-up program looks like, and what it did without a message and with it.
const (
	source = `package a

func same() { println(1) }

func more(n int) {
	if n > 0 { println(2) }
	func() { println(3) }()
}

var table = []func(){
	func() { println(4) }, func() { println(5) },
}
`
	without = `mode: atomic
m/a/a.go:3.13,3.27 1 7
m/a/a.go:5.18,6.11 1 2
m/a/a.go:6.11,6.24 1 0
m/a/a.go:7.2,7.25 1 2
m/a/a.go:7.9,7.23 1 2
m/a/a.go:11.9,11.23 1 0
m/a/a.go:11.32,11.46 1 9
`
)

var counted = strings.NewReplacer(
	"6.24 1 0", "6.24 1 1", "7.23 1 2", "7.23 1 3", "11.23 1 0", "11.23 1 4", "11.46 1 9", "11.46 1 8",
).Replace(without)

func names(t *testing.T, before, after string) (list []string) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "a.go")
	if err := os.WriteFile(file, []byte(source), 0o600); err != nil {
		t.Fatal(err)
	}
	p, err := parse(before)
	if err != nil {
		t.Fatal(err)
	}
	q, err := parse(after)
	if err != nil {
		t.Fatal(err)
	}
	fs, err := functions(risen(p, q), func(string) string { return file })
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fs {
		list = append(list, f.pkg()+" "+f.name)
	}
	return list
}

// A function counts once however many of its blocks ran more often, literals
// within it included; a counter that fell or stayed does not count.
func TestFunctionsRisen(t *testing.T) {
	if got := names(t, without, counted); !slices.Equal(got, []string{"m/a more", "m/a func literal"}) {
		t.Errorf("got %q", got)
	}
	if got := names(t, without, without); len(got) != 0 {
		t.Errorf("nothing changed, got %q", got)
	}
	// A block that only the second profile has ran for the first time.
	short := strings.Replace(without, "m/a/a.go:3.13,3.27 1 7\n", "", 1)
	if got := names(t, short, without); !slices.Equal(got, []string{"m/a same"}) {
		t.Errorf("got %q", got)
	}
}

func TestParseErr(t *testing.T) {
	for _, text := range []string{
		"", "mode: atomic\n", "mode: set\nm/a/a.go:3.13,3.27 1 7\n", "mode: atomic\nm/a/a.go:3.13,3.27 1\n",
		"mode: atomic\nm/a/a.go 7\n", "mode: atomic\nm/a/a.go:3.x,3.27 1 7\n",
	} {
		if p, err := parse(text); err == nil {
			t.Errorf("%q gives %v", text, p)
		}
	}
}

func TestFunctionsErr(t *testing.T) {
	file := filepath.Join(t.TempDir(), "a.go")
	if err := os.WriteFile(file, []byte(source), 0o600); err != nil {
		t.Fatal(err)
	}
	outside := []block{{file: "m/a/a.go", from: place{30, 1}, to: place{30, 9}}}
	if _, err := functions(outside, func(string) string { return file }); err == nil {
		t.Error("a block behind the end of the file has a function")
	}
	if _, err := functions(outside, func(string) string { return file + "x" }); err == nil {
		t.Error("a file that is not there has functions")
	}
}

func TestReport(t *testing.T) {
	var b strings.Builder
	if err := report(&b, nil, false); err == nil {
		t.Error("a message that runs through nothing")
	}
	raised := []function{{file: "m/b/x.go", name: "f"}, {file: "m/a/y.go"}, {file: "m/b/x.go", line: 3}}
	err := report(&b, raised, false)
	if want := "3 functions in 2 files\n    2 m/b\n    1 m/a\n"; err != nil || b.String() != want {
		t.Errorf("%v, got\n%s\nwant\n%s", err, &b, want)
	}
}

// A ceiling is the most that is allowed; the rooms of the dialogs count with
// them, packages that are only called alike do not.
func TestCeilings(t *testing.T) {
	var raised []function
	for _, file := range []string{
		"m/internal/dialogs/flows.go", "m/internal/dialogs/engine/x.go", "m/internal/chat/x.go",
		"m/internal/counts/x.go", "m/internal/dialogsnot/x.go", "m/internal/desk/chat/x.go", "m/cmd/bot/main.go",
	} {
		raised = append(raised, function{file: file})
	}
	for _, c := range []struct {
		most ceilings
		want string
	}{
		{ceilings{}, ""},
		{ceilings{7, 4}, ""},
		{ceilings{6, 0}, "7 functions, 6 are the most"},
		{ceilings{0, 3}, "4 functions of dialogs, chat and counts, 3 are the most"},
		{ceilings{1, 1}, "7 functions, 1 are the most\n4 functions of dialogs, chat and counts, 1 are the most"},
	} {
		got := ""
		if err := c.most.check(raised, "m"); err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%+v: %q, want %q", c.most, got, c.want)
		}
	}
}

// Only what ran more often in every run with the message is due to it.
func TestRunsThatDiffer(t *testing.T) {
	at := func(n int) block { return block{file: "a.go", from: place{line: n}} }
	sure, chance := at(1), at(2)
	without, with := profile{sure: 3, chance: 4}, profile{sure: 4, chance: 6}
	without.atMost(profile{sure: 3, chance: 6})
	with.atLeast(profile{sure: 5, chance: 4})
	if got := risen(without, with); !slices.Equal(got, []block{sure}) {
		t.Errorf("rose: %v", got)
	}
	if without[chance] != 6 || with[chance] != 4 || with[sure] != 4 {
		t.Errorf("joined %v and %v", without, with)
	}
	with.atLeast(profile{chance: 9})
	if with[sure] != 0 {
		t.Errorf("a block that a run does not have ran %d times", with[sure])
	}
}
