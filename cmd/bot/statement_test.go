package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// tradingWeek is four days of the demo shop: Monday 9 to Thursday 12 November
// 2026, for which the bank owes 4,380, 4,400, 4,400 and 3,950.
func tradingWeek(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	for i, d := range []struct{ fifties, twenties, tens int }{
		{28, 89, 120}, {28, 90, 120}, {28, 90, 120}, {25, 75, 120}} {
		fmt.Fprintf(&b, "@2026-11-%02d 06:40\n@as staff1\nopen 40 150 200\n[Confirm]\n[All done]\n", 9+i)
		if i == 0 { // later it is known from then
			b.WriteString("[With]\n[Back in]\n[No]\n")
		}
		fmt.Fprintf(&b, "@2026-11-%02d 21:05\n@as staff2\nclose\n%d %d %d\n[I looked: nothing there]\n",
			9+i, 40-d.fifties, 150-d.twenties, 200-d.tens)
		fmt.Fprintf(&b, "50x%d 20x%d 10x%d\n[Confirm]\n[All done]\n", d.fifties, d.twenties, d.tens)
	}
	return playedInto(t, b.String())
}

// playedInto plays a script into a file of its own.
func playedInto(t *testing.T, script string) string {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, "script.txt")
	if err := os.WriteFile(path, []byte(script), 0o600); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "shop.db")
	if code, stdout, stderr := command("chat", "--db", file, "--script", path); code != 0 {
		t.Fatalf("exit %d, %s\n%s", code, stderr, tail(stdout))
	}
	return file
}

// The demo shop's statement gives the same proposals in every format: by hand,
// from the days and the lines (see statement.TestDemoFiles for these).
func TestStatement(t *testing.T) {
	t.Parallel()
	file := tradingWeek(t)
	list, err := filepath.Glob(filepath.Join("..", "..", "testdata", "statements", "demo.*"))
	if err != nil || len(list) < 11 {
		t.Fatalf("%d statements, %v", len(list), err)
	}
	for _, path := range list {
		balance := "none"
		if strings.Contains(path, "camt053") || strings.Contains(path, "utf16") || strings.Contains(path,
			"semicolon") {
			balance = "ok"
		}
		want := `{"lines":7,"balance":"` + balance + `",` +
			`"matched":[{"line":3,"amount":"4380.00","claims":["2026-11-09"],"sure":true}],` +
			`"offered":[{"line":5,"amount":"4400.00","claims":["2026-11-11"],"sure":false},` +
			`{"line":5,"amount":"4400.00","claims":["2026-11-10"],"sure":false},` +
			`{"line":6,"amount":"3945.00","claims":["2026-11-12"],"sure":false},` +
			`{"line":7,"amount":"-40.00","claims":["2026-11-09"],"sure":false}],` +
			`"foreign":[1,2,4],"seen":[]}` + "\n"
		code, stdout, stderr := command("statement", path, "--db", file, "--json", "--dry-run")
		if code != 0 || stdout != want || !json.Valid([]byte(stdout)) {
			t.Errorf("%s: exit %d, %s\n got %swant %s", filepath.Base(path), code, stderr, stdout, want)
		}
	}
	code, stdout, _ := command("statement", list[0], "--db", file)
	const words = `7 lines, balance ok
line 3  4380  sure     2026-11-09  the sum of the day
line 5  4400  offered  2026-11-11  the sum of the day; another day has the same sum
line 5  4400  offered  2026-11-10  the sum of the day; another day has the same sum
line 6  3945  offered  2026-11-12  a little less: charges?
line 7  -40   offered  2026-11-09  a customer's claim?
3 foreign, 0 booked before
`
	if code != 0 || stdout != words {
		t.Errorf("exit %d\n%s", code, stdout)
	}
}

// What a person typed before the statement came is not booked twice.
func TestStatementAfterTyping(t *testing.T) {
	t.Parallel()
	file := tradingWeek(t)
	script := filepath.Join(t.TempDir(), "more.txt")
	more := "@2026-11-13 10:00\n@as owner\ncredit 4380 for 9 november\n[Confirm]\n"
	if err := os.WriteFile(script, []byte(more), 0o600); err != nil {
		t.Fatal(err)
	}
	if code, stdout, stderr := command("chat", "--db", file, "--script", script); code != 0 {
		t.Fatalf("exit %d, %s\n%s", code, stderr, tail(stdout))
	}
	path := filepath.Join("..", "..", "testdata", "statements", "demo.plain.csv")
	code, stdout, stderr := command("statement", path, "--db", file, "--json", "--shop", "1")
	if code != 0 || !strings.Contains(stdout, `"matched":[]`) || !strings.Contains(stdout, `"seen":[3]`) {
		t.Errorf("exit %d, %s\n%s", code, stderr, stdout)
	}
}

// What cannot be used ends with code 2, one line, and nothing on the other stream.
func TestStatementErr(t *testing.T) {
	file, dir := seeded(t, 1), t.TempDir()
	put := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	good := put("good.csv", "Date,Amount\n2026-11-10,1.00\n")
	for line, want := range map[string]string{
		"":                              "name the file",
		filepath.Join(dir, "none"):      "no such file",
		dir:                             "is no file",
		put("words", "hello\nthere\n"):  "no statement that I can read",
		put("empty", ""):                "no statement in it",
		put("cut.zip", "PK\x03\x04cut"): "damaged",
		put("bomb", `<!DOCTYPE a [<!ENTITY b "c">]><Document/>`): "words of its own",
		good + " --shop 9":           "no such shop",
		good + " --dates ymd":        "want dmy or mdy",
		good + " --db " + dir + "/x": "no such file",
	} {
		args := append([]string{"statement", "--db", file, "--json"}, strings.Fields(line)...)
		code, stdout, stderr := command(args...)
		if code != 2 || stdout != "" || !strings.Contains(stderr, want) || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%q: exit %d, %q, %s; want %q", line, code, stdout, stderr, want)
		}
	}
	code, stdout, _ := command("statement", good, "--db", file, "--json")
	const nothing = `{"lines":1,"balance":"none","matched":[],"offered":[],"foreign":[1],"seen":[]}` + "\n"
	if code != 0 || stdout != nothing {
		t.Errorf("exit %d, %s", code, stdout)
	}
}
