package telegram_test

import (
	"context"
	"log/slog"
	"strconv"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
	"shopfloat/internal/desk"
	"shopfloat/internal/telegram"
)

// However many people tap at once, and whatever goes wrong with some calls, no
// button keeps showing the sign of waiting.
func TestEveryTapIsAnswered(t *testing.T) {
	t.Parallel() // it mostly waits
	const taps = 3000
	srv := botapitest.New(botapitest.Options{Clock: time.Now, KeepMessages: 4})
	for n := range int64(taps) {
		srv.TapData(shopkeeper+n%50, shopkeeper+n%50, 1, "a."+strconv.FormatInt(n, 10))
	}
	srv.Inject(botapitest.Fault{Kind: botapitest.ServerError, Method: "answerCallbackQuery", Times: 20})
	srv.Inject(botapitest.Fault{Kind: botapitest.CutBefore, Method: "answerCallbackQuery", Times: 20})
	srv.Inject(botapitest.Fault{Kind: botapitest.TooManyRequests, Method: "answerCallbackQuery", Times: 5})
	if err := srv.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(srv.Close)
	bot, err := telegram.New(telegram.Options{
		Token: srv.Token(), URL: srv.URL(), Now: time.Now, Log: slog.New(slog.DiscardHandler),
		Take: func(_ context.Context, raws []desk.Raw) (list []desk.Notice, _ error) {
			for _, r := range raws {
				list = append(list, desk.Notice{Key: r.Key, Text: "noted"})
			}
			return list, nil
		},
		Redraw: func(context.Context, time.Time) error { return nil }, Caught: func(time.Time) {},
	})
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- bot.Run(ctx) }()
	err = srv.WaitFor(t.Context(), func(v botapitest.Snapshot) bool { return v.Pending() == 0 })
	if err != nil {
		t.Fatal(err)
	}
	stop() // what waits is answered still
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	r := srv.Report()
	if len(r.Unanswered) > 0 || r.Calls["answerCallbackQuery"] < taps {
		t.Errorf("%d of %d taps unanswered, %v", len(r.Unanswered), taps, r.Calls)
	}
	if srv.FaultsLeft() != 0 {
		t.Error("not all faults were met")
	}
}
