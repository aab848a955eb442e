package main

import (
	"context"
	"crypto/rand"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/store"
	"shopfloat/internal/texts"
)

// The chat in the terminal neither prints nor uses up what waits to be sent to
// Telegram; serve delivers it afterwards.
func TestChatLeavesTelegramAlone(t *testing.T) {
	srv, file := standIn(t, owner1), seeded(t, 1)
	unsent(t, file, "tg:1000001", "open 40 150 200")
	code, stdout, stderr := chatOn(file, "help\n")
	if code != 0 || strings.Contains(stdout, "€7,000") || !strings.Contains(stdout, "bot") {
		t.Errorf("exit %d, %s%s", code, stdout, stderr)
	}
	bot := serve(t, srv, file)
	person{t, srv, owner1}.sees("€7,000")
	settled(t, srv)
	bot.end()
}

// unsent takes a message and leaves the answer in the outbox, as a stop in between does.
func unsent(t *testing.T, file string, where chat.Chat, text string) {
	t.Helper()
	db, err := store.Open(t.Context(), file, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	catalogue, err := texts.Load()
	if err != nil {
		t.Fatal(err)
	}
	d := desk.New(desk.Options{Store: db, Step: dialogs.New(catalogue).Step, Now: time.Now, Random: rand.Reader})
	_, err = d.Take(t.Context(), []desk.Raw{{Source: "test", Key: "1",
		Input: chat.Input{Chat: where, Kind: chat.Text, Text: text, At: time.Now()}}})
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
}

// chatOn types into the chat in the terminal.
func chatOn(file, typed string) (code int, stdout, stderr string) {
	var out, errs strings.Builder
	e := &env{ctx: context.Background(), stdin: strings.NewReader(typed), stdout: &out, stderr: &errs}
	code = run(e, []string{"chat", "--db", file})
	return code, out.String(), errs.String()
}
