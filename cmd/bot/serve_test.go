package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
	"shopfloat/internal/store"
)

// The whole way: server, library, desk, dialogs, file and back.
func TestServeDay(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	owner := person{t, srv, owner1}
	owner.lives(day())
	history := owner.does("history", "Last records")
	for _, part := range []string{"200 x 10s = €7,000", "50 x 20s = €1,000", "80 x 10s = €3,300", "€4,700"} {
		if strings.Count(history.Text, part) != 1 {
			t.Errorf("%q is not once in\n%s", part, history.Text)
		}
	}
	settled(t, srv)
	if code := bot.end(); code != 0 {
		t.Errorf("exit %d, log:\n%s", code, &bot.stderr)
	}
	if rep := verified(t, file); len(rep) != 1 || rep[0].Entries != 10 {
		t.Errorf("ledger %+v", rep)
	}
	r := srv.Report()
	if len(r.Errors) != 0 || r.AnsweredTwice != 0 || r.TokenSeen != 0 || r.ButtonsCut != 0 {
		t.Errorf("report %+v", r)
	}
	withoutToken(t, file, srv, bot)
}

// settled waits until the bot has fetched and answered everything.
func settled(t *testing.T, srv *botapitest.Server) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	err := srv.WaitFor(ctx, func(v botapitest.Snapshot) bool {
		return v.Pending() == 0 && v.Unanswered() == 0 && v.Polling()
	})
	if err != nil {
		t.Error("not settled:", err)
	}
}

// withoutToken looks for the token in every file and in the log.
func withoutToken(t *testing.T, file string, srv *botapitest.Server, bot *program) {
	t.Helper()
	_, secret, _ := strings.Cut(srv.Token(), ":")
	if strings.Contains(bot.stderr.String(), secret) {
		t.Error("the token was logged")
	}
	files, err := filepath.Glob(file + "*")
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		if f == store.Pictures(file) {
			continue // what is in it came from people
		}
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(data, []byte(secret)) {
			t.Errorf("the token is in %s", f)
		}
	}
}

// A dialog half done goes on after a restart, and what was sent while nobody
// listened is taken then.
func TestServeGoesOnAfterARestart(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	owner := person{t, srv, owner1}
	owner.lives(day()[:2])
	if code := bot.end(); code != 0 {
		t.Fatalf("exit %d, log:\n%s", code, &bot.stderr)
	}
	srv.SendText(owner1, "150")
	bot = serve(t, srv, file)
	owner.sees("bottom box")
	owner.lives(day()[3:])
	if code := bot.end(); code != 0 {
		t.Errorf("exit %d, log:\n%s", code, &bot.stderr)
	}
	if rep := verified(t, file); rep[0].Entries != 10 {
		t.Errorf("ledger %+v", rep)
	}
}

// After an outage longer than a tap lives, open cards are shown again.
func TestServeRedrawsAfterAnOutage(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		away  time.Duration
		cards int
	}{"short": {time.Minute, 0}, "long": {time.Hour, 1}} {
		t.Run(name, func(t *testing.T) {
			srv, file := standIn(t, owner1, 777), seeded(t, 1)
			bot := serve(t, srv, file)
			owner := person{t, srv, owner1}
			owner.does("open 40 150 200", "€7,000")
			settled(t, srv)
			bot.end()
			if err := aliveMark(file).set(time.Now().Add(-c.away)); err != nil {
				t.Fatal(err)
			}
			srv.SendText(777, "so that the poll need not wait")
			bot = serve(t, srv, file)
			if c.cards > 0 {
				owner.sees("Back to opening")
			}
			settled(t, srv)
			bot.end()
			if card := owner.sees("€7,000"); strings.Count(card.Text, "Back to opening") != c.cards {
				t.Errorf("the card says %q", card.Text)
			}
		})
	}
}

// Whoever changes a message later is told that the first words count.
func TestServeEditedMessage(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	owner := person{t, srv, owner1}
	owner.does("open", "top box")
	first := srv.SendText(owner1, "40")
	owner.sees("middle box")
	if err := srv.EditText(owner1, first, "41"); err != nil {
		t.Fatal(err)
	}
	owner.sees("I take what you wrote first. Type it again to change it.")
	owner.lives([][2]string{{"150", "bottom box"}, {"200", "€7,000"}})
	bot.end()
}

func TestServeRefusesASecondOne(t *testing.T) {
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	person{t, srv, owner1}.does("help", "open")
	second := serve(t, srv, file)
	if code := <-second.code; code != 1 || !strings.Contains(second.stderr.String(), "another shopfloat") {
		t.Errorf("exit %d: %s", code, &second.stderr)
	}
	bot.end()
}

func TestServeStopsWithoutItsToken(t *testing.T) {
	srv, file := standIn(t, owner1), seeded(t, 1)
	bot := serve(t, srv, file)
	person{t, srv, owner1}.does("help", "open")
	srv.RevokeToken()
	srv.SendText(owner1, "help")
	code := <-bot.code
	lines := strings.Split(strings.TrimSpace(bot.stderr.String()), "\n")
	last := lines[len(lines)-1]
	if code != 1 || !strings.HasPrefix(last, "the chat server does not know this bot") {
		t.Errorf("exit %d, last line %q", code, last)
	}
	withoutToken(t, file, srv, bot)
}

// What cannot start leaves nothing behind, no file and no set-up code.
func TestServeRefusesBadSettings(t *testing.T) {
	for name, args := range map[string][]string{
		"token":   {"--token", "SECRET", "--api-url", "http://127.0.0.1:1"},
		"no code": {"--token", "123:", "--api-url", "http://127.0.0.1:1"},
		"address": {"--token", "1:SECRET", "--api-url", "127.0.0.1"},
		"rate":    {"--token", "1:SECRET", "--rate", "-1"},
		"level":   {"--token", "1:SECRET", "--log-level", "loud"},
	} {
		var out locked
		e := &env{ctx: t.Context(), stdin: strings.NewReader(""), stdout: &out, stderr: &out}
		dir := t.TempDir()
		code := run(e, append([]string{"serve", "--db", filepath.Join(dir, "x.db")}, args...))
		if left, err := os.ReadDir(dir); err != nil || len(left) != 0 {
			t.Errorf("%s: left behind %v, %v", name, left, err)
		}
		if strings.Contains(out.String(), "Set-up code") {
			t.Errorf("%s: a code was printed: %s", name, &out)
		}
		if code != 2 || strings.Contains(out.String(), "SECRET") {
			t.Errorf("%s: exit %d: %s", name, code, &out)
		}
	}
}

// Strangers and groups learn nothing, and leave nothing behind.
func TestServeStrangers(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1, 777), seeded(t, 1)
	srv.AddGroup(-4242, "Market street")
	bot := serve(t, srv, file)
	srv.SendText(777, "my secret question")
	srv.SendText(777, "open 40 150 200")
	srv.SendTextIn(-4242, owner1, "/open@standin_bot")
	person{t, srv, owner1}.does("help", "open")
	stranger := person{t, srv, 777}.sees("help here")
	const private = "I only talk in private. Please write to me directly."
	group := person{t, srv, -4242}.sees(private)
	settled(t, srv)
	bot.end()
	if n := len(srv.Messages(777)); n != 3 {
		t.Errorf("the stranger got %d answers", n-2)
	}
	if group.Text != private {
		t.Errorf("the group is told %q", group.Text)
	}
	for _, m := range []botapitest.Message{stranger, group} {
		if strings.ContainsAny(m.Text, "€0123456789") || len(m.Buttons) != 0 {
			t.Errorf("told too much: %q", m.Text)
		}
	}
	data, err := os.ReadFile(file)
	if err != nil || bytes.Contains(data, []byte("secret question")) {
		t.Error("a stranger's words are in the file", err)
	}
}

// What goes wrong on the way: nothing is lost and nothing is booked twice.
func TestServeThroughFaults(t *testing.T) {
	t.Parallel()
	srv, file := standIn(t, owner1), seeded(t, 1)
	srv.InjectUnknownSubtype(owner1)
	for _, f := range []botapitest.Fault{
		{Kind: botapitest.BadGatewayPage, Method: "getUpdates"},
		{Kind: botapitest.CutAfter, Method: "getUpdates", Times: 2},
		{Kind: botapitest.TooManyRequests, Method: "sendMessage", RetryAfter: 1},
		{Kind: botapitest.ServerError, Method: "editMessageText"},
		{Kind: botapitest.CutAfter, Method: "sendMessage"},
		{Kind: botapitest.CutAfter, Method: "editMessageText"},
		{Kind: botapitest.CutBefore, Method: "answerCallbackQuery"},
	} {
		srv.Inject(f)
	}
	bot := serve(t, srv, file)
	person{t, srv, owner1}.lives(day())
	if n := srv.FaultsLeft(); n != 0 {
		t.Errorf("%d faults did not happen", n)
	}
	if code := bot.end(); code != 0 {
		t.Errorf("exit %d, log:\n%s", code, &bot.stderr)
	}
	if rep := verified(t, file); rep[0].Entries != 10 {
		t.Errorf("ledger %+v", rep)
	}
	withoutToken(t, file, srv, bot)
}

// At its most talkative, and with things going wrong, the log names nobody, shows nobody's account and
// quotes nobody.
func TestServeLogsNothingOfPeople(t *testing.T) {
	t.Parallel()
	const stranger = owner1 + 7
	srv, file := standIn(t, owner1, stranger), seeded(t, 1)
	srv.InjectUnknownSubtype(owner1)
	for _, f := range []botapitest.Fault{
		{Kind: botapitest.ServerError, Method: "sendMessage"}, {Kind: botapitest.CutAfter, Method: "sendMessage"},
		{Kind: botapitest.TooManyRequests, Method: "editMessageText", RetryAfter: 1},
		{Kind: botapitest.BadGatewayPage, Method: "getUpdates"}, {Kind: botapitest.CutBefore,
			Method: "answerCallbackQuery"},
	} {
		srv.Inject(f)
	}
	bot := serve(t, srv, file, "--log-level", "debug")
	person{t, srv, stranger}.does("quixotic stranger here", "can't help")
	person{t, srv, owner1}.lives(append(day(), [2]string{"quixotic question <b>", "nothing close"}))
	if code := bot.end(); code != 0 {
		t.Errorf("exit %d, log:\n%s", code, &bot.stderr)
	}
	log := bot.stderr.String()
	if strings.Count(log, "\n") < 3 {
		t.Errorf("the log tells too little to show anything:\n%s", log)
	}
	for _, word := range []string{"Ada", "Ben", "Cleo", "Person", "quixotic", "top box", "close 10 100 80",
		fmt.Sprint(owner1), fmt.Sprint(stranger)} {
		if strings.Contains(log, word) {
			t.Errorf("%q is in the log:\n%s", word, log)
		}
	}
}
