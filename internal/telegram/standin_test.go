package telegram_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/telegram"
)

const shopkeeper = 1000001

// echo is a desk that answers every input with what it was, at once.
type echo struct {
	bot *telegram.Bot
	mu  sync.Mutex
	got []string
	err []error
	ids map[string]int64
}

func (e *echo) take(ctx context.Context, raws []desk.Raw) (notices []desk.Notice, _ error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	for _, raw := range raws {
		in := raw.Input
		if in.Chat == "" {
			continue
		}
		e.got = append(e.got, fmt.Sprintf("%s %s%s", in.Kind, in.Text, in.Tap))
		reply := chat.Reply{
			Body:    []chat.Block{{Text: "<" + in.Text + in.Tap + "> & more"}, {Text: "50s  40", Fixed: true}},
			Buttons: [][]chat.Button{{{Label: "Yes", Data: "a.1.yes"}, {Label: "No", Data: "a.1.no"}}},
		}
		o := desk.Out{Chat: in.Chat, Reply: reply}
		if in.Kind == chat.Press {
			o.MessageID, o.Reply.Buttons = e.ids["card"], nil
			notices = append(notices, desk.Notice{Key: raw.Key, Text: "noted"})
		}
		id, err := e.bot.Send(ctx, o)
		e.ids["card"] = id
		e.err = append(e.err, err)
	}
	return notices, nil
}

func startEcho(t *testing.T, srv *botapitest.Server) (*echo, *bytes.Buffer) {
	t.Helper()
	if err := srv.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(srv.Close)
	e, log := &echo{ids: map[string]int64{}}, &bytes.Buffer{}
	var err error
	e.bot, err = telegram.New(telegram.Options{
		Token: srv.Token(), URL: srv.URL(), Take: e.take, Now: time.Now, PrivateOnly: "In private only.",
		Redraw: func(context.Context, time.Time) error { return nil }, Caught: func(time.Time) {},
		Log:      slog.New(slog.NewTextHandler(log, nil)),
		Commands: []telegram.Command{{Name: "help", Text: "What I can do"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- e.bot.Run(ctx) }()
	t.Cleanup(func() {
		cancel()
		if err := <-done; err != nil {
			t.Errorf("run: %v", err)
		}
	})
	return e, log
}

// A conversation on the strict stand-in: what it refuses, the platform refuses.
func TestConversation(t *testing.T) {
	srv := botapitest.New(botapitest.Options{Clock: time.Now})
	srv.AddUser(shopkeeper, "Ann")
	srv.AddGroup(-77, "Market street")
	srv.SendText(shopkeeper, "hello")
	srv.InjectUnknownSubtype(shopkeeper)
	srv.InjectUnknownKind()
	srv.SendTextIn(-77, shopkeeper, "/open@standin_bot")
	e, _ := startEcho(t, srv)

	card, err := srv.WaitForText(t.Context(), shopkeeper, "<> & more")
	if err != nil {
		t.Fatal(err)
	}
	if card.Text != "<> & more\n50s  40" || len(card.Entities) != 1 || card.Entities[0].Type != "pre" {
		t.Errorf("card %+v", card)
	}
	if _, err := srv.Tap(shopkeeper, card.ID, "Yes"); err != nil {
		t.Fatal(err)
	}
	edited, err := srv.WaitForText(t.Context(), shopkeeper, "<a.1.yes>")
	if err != nil || edited.ID != card.ID || len(edited.Buttons) != 0 {
		t.Errorf("edited %+v, %v", edited, err)
	}
	srv.SendPhoto(shopkeeper, []byte("a picture"), "the slip")
	if _, err := srv.WaitForText(t.Context(), shopkeeper, "<the slip>"); err != nil {
		t.Fatal(err)
	}
	if _, err := srv.WaitForText(t.Context(), -77, "In private only."); err != nil {
		t.Fatal(err)
	}
	err = srv.WaitFor(t.Context(), func(v botapitest.Snapshot) bool {
		return v.Unanswered() == 0 && v.Calls("setMyCommands") == 1 && v.Pending() == 0
	})
	if err != nil {
		t.Fatal(err)
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	equal(t, "inputs", e.got, []string{"text hello", "foreign ", "press a.1.yes", "picture the slip"})
	if err := errors.Join(e.err...); err != nil {
		t.Error(err)
	}
	if a := srv.Answers(shopkeeper); len(a) != 1 || a[0].Text != "noted" {
		t.Errorf("answers %+v", a)
	}
	if r := srv.Report(); len(r.Errors) != 0 || r.TokenSeen != 0 || r.ButtonsCut != 0 {
		t.Errorf("report %+v", r)
	}
}

// The fates on the stand-in, which gives the platform's own texts.
func TestFatesOnStandIn(t *testing.T) {
	srv := botapitest.New(botapitest.Options{Clock: time.Now})
	srv.AddUser(shopkeeper, "Ann")
	srv.AddUser(shopkeeper+1, "Ben")
	srv.SetState(shopkeeper+1, botapitest.Blocked)
	e, log := startEcho(t, srv)
	send := func(user int64, text string, edit int64) (int64, error) {
		return e.bot.Send(t.Context(), desk.Out{
			Chat: chat.Chat("tg:" + strconv.FormatInt(user, 10)), MessageID: edit,
			Reply: chat.Reply{Body: []chat.Block{{Text: text}}},
		})
	}
	id, err := send(shopkeeper, "one", 0)
	if err != nil {
		t.Fatal(err)
	}
	if same, err := send(shopkeeper, "one", id); same != id || err != nil {
		t.Errorf("an edit that changes nothing: %d, %v", same, err)
	}
	srv.Erase(shopkeeper, int(id))
	if _, err := send(shopkeeper, "two", id); !errors.Is(err, desk.ErrVanished) {
		t.Errorf("erased: %v", err)
	}
	if _, err := send(shopkeeper+1, "one", 0); !errors.Is(err, desk.ErrGone) {
		t.Errorf("blocked: %v", err)
	}
	if _, err := send(shopkeeper+9, "one", 0); !errors.Is(err, desk.ErrGone) {
		t.Errorf("unknown: %v", err)
	}
	if _, err := send(shopkeeper, "  ", 0); !errors.Is(err, desk.ErrRefused) {
		t.Errorf("empty: %v", err)
	}
	if _, err := send(shopkeeper, strings.Repeat("<&>é😀", 2000), 0); err != nil {
		t.Errorf("long: %v", err)
	}
	if strings.Contains(log.String(), srv.Token()) {
		t.Error("the token was logged")
	}
}
