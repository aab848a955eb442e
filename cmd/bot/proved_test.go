package main

import (
	"strings"
	"testing"
)

// What verify says of a file the bot says as well, at the start: to the owner of
// the shop, and when asked how its memory is.
func TestServeSaysWhatVerifySays(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	owner := person{t, srv, owner1}
	owner.lives(day()[:5])
	settled(t, srv)
	if code := bot.end(); code != 0 {
		t.Fatalf("exit %d, log:\n%s", code, &bot.stderr)
	}
	const tamper = `UPDATE machine SET body = replace(body, '"cash"', '"till"')`
	if _, err := other(t, file).Exec(tamper); err != nil {
		t.Fatal(err)
	}
	code, stdout, _ := command("verify", "--db", file)
	const fault = "the books at hand differ from the fold over 1 entries"
	if code != 1 || !strings.Contains(stdout, fault) {
		t.Fatalf("verify: %d\n%s", code, stdout)
	}
	bot = serve(t, srv, file)
	owner.sees(fault)
	owner.does("backup", "something does not hold together")
	if code := bot.end(); code != 0 {
		t.Errorf("exit %d, log:\n%s", code, &bot.stderr)
	}
}
