package telegram_test

import (
	"bytes"
	"errors"
	"log/slog"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/advice"
	"shopfloat/internal/botapitest"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/telegram"
)

// sending is a bot that only sends, on the strict stand-in.
func sending(
	t *testing.T, draw func(*chat.File) ([]byte, error),
) (*botapitest.Server, *telegram.Bot, *bytes.Buffer) {
	t.Helper()
	srv := botapitest.New(botapitest.Options{Clock: time.Now})
	srv.AddUser(shopkeeper, "Ann")
	if err := srv.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(srv.Close)
	var log bytes.Buffer
	bot, err := telegram.New(telegram.Options{Token: srv.Token(), URL: srv.URL(), Now: time.Now, Draw: draw,
		Log: slog.New(slog.NewTextHandler(&log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	return srv, bot, &log
}

func withFile(f *chat.File) desk.Out {
	return desk.Out{ID: 5, Chat: "tg:1000001", Reply: chat.Reply{
		Body: []chat.Block{{Text: "a < b"}}, File: f, Silent: true,
		Buttons: [][]chat.Button{{{Label: "Yes", Data: "o.3.yes"}}},
	}}
}

func TestSendFile(t *testing.T) {
	draw := func(f *chat.File) ([]byte, error) { return []byte("picture of " + f.Chart.Title), nil }
	for name, c := range map[string]struct {
		file  chat.File
		photo bool
		data  string
	}{
		"document": {chat.File{Name: "may.csv", Data: []byte("a;b")}, false, "a;b"},
		"picture":  {chat.File{Name: "advice.png", Chart: &advice.Chart{Title: "x"}}, true, "picture of x"},
	} {
		srv, bot, _ := sending(t, draw)
		id, err := bot.Send(t.Context(), withFile(&c.file))
		if err != nil {
			t.Fatal(name, err)
		}
		m, err := srv.WaitForText(t.Context(), shopkeeper, "a < b")
		if err != nil {
			t.Fatal(name, err)
		}
		if int64(m.ID) != id || m.Photo != c.photo || string(srv.File(m.File)) != c.data || len(m.Buttons) != 1 {
			t.Errorf("%s: %+v with %q", name, m, srv.File(m.File))
		}
	}
}

// A picture that cannot be drawn must not keep its words back.
func TestSendUndrawn(t *testing.T) {
	broken := func(*chat.File) ([]byte, error) { return nil, errors.New("out of ink") }
	for _, draw := range []func(*chat.File) ([]byte, error){nil, broken} {
		srv, bot, log := sending(t, draw)
		if _, err := bot.Send(t.Context(), withFile(&chat.File{Chart: &advice.Chart{}})); err != nil {
			t.Fatal(err)
		}
		if m, err := srv.WaitForText(t.Context(), shopkeeper, "a < b"); err != nil || m.File != "" {
			t.Errorf("%+v, %v", m, err)
		}
		if draw != nil && !strings.Contains(log.String(), "out of ink") {
			t.Error("the fault is in no log")
		}
	}
}

// What stands under a file is shorter than a message may be.
func TestSendLongCaption(t *testing.T) {
	_, bot, _ := sending(t, nil)
	o := withFile(&chat.File{Name: "x.csv", Data: []byte("x")})
	o.Reply.Body[0].Text = strings.Repeat("long ", 1000)
	if _, err := bot.Send(t.Context(), o); err != nil {
		t.Error(err)
	}
}
