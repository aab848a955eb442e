package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/backup"
	"shopfloat/internal/botapitest"
	"shopfloat/internal/intake"
	"shopfloat/internal/store"
)

// statementOf is a table of one line that pays for the day that a day's play leaves:
// 30 x 50 + 100 x 20 + 120 x 10 = 4,700. It is of tomorrow, since late in the evening
// that is the day of trading.
func statementOf(t *testing.T) []byte {
	t.Helper()
	dublin, err := time.LoadLocation("Europe/Dublin")
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Appendf(nil, "Account;IE29 AIBK 9311 5212 3456 78\nDate;Text;Amount\n%s;Settlement;4700.00\n",
		time.Now().In(dublin).AddDate(0, 0, 1).Format(time.DateOnly))
}

// A statement that is sent as a file goes all the way: fetched at the second try,
// kept by its digest, read, tied, booked, and missed by no copy of the file. The
// same file once more books nothing.
func TestServeStatement(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	owner := person{t, srv, owner1}
	owner.lives(day())
	srv.Inject(botapitest.Fault{Kind: botapitest.ServerError, Method: "getFile"})
	data := statementOf(t)
	srv.SendDocument(owner1, "november.csv", "text/csv", data, "for november")
	owner.sees("Which shop is this account for?")
	owner.lives([][2]string{{"[Example", "1 line is sure"}, {"[Confirm all", "1 line booked"}})
	srv.SendDocument(owner1, "", "", data, "")
	owner.sees("0 lines booked")
	owner.sees("1 line was booked before")
	if n := srv.FaultsLeft(); n != 0 {
		t.Errorf("%d faults did not happen", n)
	}
	if code := bot.end(); code != 0 {
		t.Errorf("exit %d, log:\n%s", code, &bot.stderr)
	}
	if rep := verified(t, file); rep[0].Entries != 11 {
		t.Errorf("%d entries, want the 10 of the day and a payment", rep[0].Entries)
	}
	if got := photosOf(t, file); len(got) != 1 || got[0] != string(data) {
		t.Errorf("kept %q", got)
	}
	folder := t.TempDir()
	m, err := backup.Write(t.Context(), file, filepath.Join(folder, "copy"), time.Now())
	if err != nil || m.Photos != 1 {
		t.Errorf("the copy: %v, %+v", err, m)
	}
	raw, err := os.ReadFile(file)
	if err != nil || bytes.Contains(raw, []byte("93115212345678")) || bytes.Contains(raw,
		[]byte("for november")) {
		t.Error("the account's number or the words under the file stand in the file", err)
	}
}

// What does not come, and what is too large to come, is told; nothing waits for it.
func TestServeGivesAStatementUp(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		data []byte
		lose bool
	}{"too large": {data: make([]byte, intake.MaxFile+1)}, "gone": {data: statementOf(t), lose: true}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			srv, file := standIn(t, owner1), seeded(t, 1)
			bot := serve(t, srv, file)
			owner := person{t, srv, owner1}
			owner.does("status", "is not open")
			srv.SendDocument(owner1, "november.csv", "text/csv", c.data, "")
			if c.lose {
				srv.LoseFiles()
			}
			owner.sees("cannot be had")
			owner.does("status", "is not open")
			if code := bot.end(); code != 0 || strings.Contains(bot.stderr.String(), "read later") {
				t.Errorf("exit %d, log:\n%s", code, &bot.stderr)
			}
			if left, err := os.ReadDir(store.Pictures(file)); err == nil && len(left) > 0 {
				t.Errorf("%d files are kept", len(left))
			}
		})
	}
}
