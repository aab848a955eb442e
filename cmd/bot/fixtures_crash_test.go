package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"log/slog"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/texts"
)

// phone is the account that the files with unsent and waiting rows tell of.
const phone chat.Chat = "tg:4711"

// What an earlier program could not send goes out once, in order, and not again
// after the next start.
func TestFixtureUnsentIsSentOnce(t *testing.T) {
	t.Parallel()
	file := unpacked(t, "unsent")
	if n := ask(t, file, "SELECT count(*) FROM outbox WHERE body IS NOT NULL AND chat = ?", phone); n != 2 {
		t.Fatalf("%d messages wait in the file, want 2", n)
	}
	sent := startedOnce(t, file)
	if len(sent) != 2 ||
		!strings.HasPrefix(sent[0], "Level check.") || !strings.HasPrefix(sent[1], "Last records:") {
		t.Errorf("sent %q", sent)
	}
	if again := startedOnce(t, file); len(again) != 0 {
		t.Errorf("sent again %q", again)
	}
	allWell(t, file)
}

// What an earlier program took in and was killed before it handled it is
// handled once, in the order in which it came, and answered once.
func TestFixtureWaitingIsHandledOnce(t *testing.T) {
	t.Parallel()
	const all = 30
	looked := unpacked(t, "waiting") // to look into it changes its log, so the bot starts on another copy
	waits := ask(t, looked, "SELECT count(*) FROM inbox WHERE status = 0")
	levels := ask(t, looked, "SELECT count(*) FROM entry WHERE kind = 'level'")
	if waits == 0 || levels+waits != all {
		t.Fatalf("%d handled, %d wait, want %d together and some to wait", levels, waits, all)
	}
	file := unpacked(t, "waiting")
	sent := startedOnce(t, file)
	if len(sent) < waits || len(sent) > all {
		t.Errorf("%d answers, want %d to %d", len(sent), waits, all)
	}
	for _, text := range sent {
		if !strings.HasPrefix(text, "Level check") { // what was booked already says "Level check."
			t.Errorf("sent %q", text)
		}
	}
	if again := startedOnce(t, file); len(again) != 0 {
		t.Errorf("sent again %q", again)
	}
	// The earlier program booked a level as it was typed; now it waits for Confirm.
	want := make([]string, levels)
	for i := range want {
		want[i] = fmt.Sprint(39-i, 149-i, 199-i)
	}
	if got := levelsIn(t, file); strings.Join(got, ", ") != strings.Join(want, ", ") {
		t.Errorf("recorded %v, want %v", got, want)
	}
	if n := ask(t, file, "SELECT count(*) FROM inbox WHERE status <> 1"); n != 0 {
		t.Errorf("%d rows of the inbox are not done", n)
	}
	allWell(t, file)
}

// What was recorded stands in the log that the kill left, and nowhere else.
func TestFixtureLogIsRead(t *testing.T) {
	t.Parallel()
	bare := filepath.Join(t.TempDir(), "bare.db")
	unpack(t, "wal.db", bare)
	if n := ask(t, bare, "SELECT count(*) FROM sqlite_schema WHERE name = 'entry'"); n != 0 {
		if n = ask(t, bare, "SELECT count(*) FROM entry"); n != 0 {
			t.Fatalf("%d entries stand in the file without its log", n)
		}
	}
	file := unpacked(t, "wal")
	const hashes = "SELECT hex(hash) FROM entry ORDER BY seq"
	before := texted(t, file, hashes)
	if len(before) != 12 {
		t.Fatalf("with its log the file holds %d entries, want 12", len(before))
	}
	startedOnce(t, file)
	if after := texted(t, file, hashes); len(after) < 12 || !slices.Equal(after[:12], before) {
		t.Errorf("after a start it holds %q", after)
	}
	allWell(t, file)
}

// outgoing keeps what is sent to the phone.
type outgoing struct{ texts []string }

func (o *outgoing) Owns(where chat.Chat) bool { return where == phone }

func (o *outgoing) Send(_ context.Context, out desk.Out) (int64, error) {
	if len(out.Reply.Body) > 0 {
		o.texts = append(o.texts, out.Reply.Body[0].Text)
	}
	return int64(len(o.texts)), nil
}

// startedOnce starts the bot on a file a minute after the newest instant in it,
// lets it do what is left to do, stops it, and gives what the phone was sent.
func startedOnce(t *testing.T, file string) []string {
	t.Helper()
	now := latestIn(t, file).Add(time.Minute)
	db, err := store.Open(t.Context(), file, now)
	if err != nil {
		t.Fatal(err)
	}
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	d := desk.New(desk.Options{
		Store: db, Step: dialogs.New(catalogue).Step, Now: func() time.Time { return now }, Random: rand.Reader,
		Log: slog.New(slog.DiscardHandler),
	})
	var out outgoing
	if err := d.Flush(t.Context(), &out); err != nil {
		t.Error(err)
	}
	if err := db.Close(); err != nil {
		t.Error(err)
	}
	return out.texts
}

// levelsIn gives what the machine showed at each level check, oldest first.
func levelsIn(t *testing.T, file string) (list []string) {
	t.Helper()
	r, err := store.OpenReader(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	entries, err := r.Entries(t.Context(), shop.MachineID(verified(t, file)[0].Machine))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Kind != books.Level {
			continue
		}
		var shown []any
		for _, f := range e.Figures {
			shown = append(shown, f.Notes)
		}
		list = append(list, fmt.Sprint(shown...))
	}
	return list
}
