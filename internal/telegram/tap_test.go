package telegram_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/telegram"
)

func updates(list ...string) answer {
	return answer{body: `{"ok":true,"result":[` + strings.Join(list, ",") + `]}`}
}

func textUpdate(id int) string {
	return strings.Replace(said(fmt.Sprintf(`"text":"t%d"`, id)), "7", strconv.Itoa(id), 1)
}

func tapUpdate(id int) string {
	return fmt.Sprintf(`{"update_id":%d,"callback_query":{"id":"q%d",%s,"message":{%s,%s},"data":"o.3.yes"}}`,
		id, id, ann, private, early)
}

func (f *fixture) offsets() (list []string) {
	for _, c := range f.made("getUpdates") {
		list = append(list, c.Fields["offset"])
	}
	return list
}

func (f *fixture) keys() (list []string) {
	for _, batch := range f.taken {
		for _, raw := range batch {
			list = append(list, raw.Source+" "+raw.Key+" "+string(raw.Input.Kind))
		}
	}
	return list
}

func equal(t *testing.T, what string, got, want []string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: got %q, want %q", what, got, want)
	}
}

func TestPollTakesBeforeConfirming(t *testing.T) {
	var atTake []int
	f := newFixture(t, map[string][]answer{"getUpdates": {
		updates(textUpdate(500), tapUpdate(501)), updates(), updates(textUpdate(502)), updates(),
	}}, func(f *fixture, o *telegram.Options) {
		o.Take = func(ctx context.Context, raws []desk.Raw) ([]desk.Notice, error) {
			atTake = append(atTake, len(f.made("getUpdates")))
			return f.take(ctx, raws)
		}
	})
	if err := f.run(t, 4); err != nil {
		t.Fatal(err)
	}
	equal(t, "taken", f.keys(), []string{"tg 500 text", "tg 501 press", "tg 502 text"})
	equal(t, "offsets", f.offsets(), []string{"1", "502", "502", "503"})
	if !slices.Equal(atTake, []int{1, 3}) {
		t.Errorf("taken after polls %v", atTake)
	}
	if p := f.made("getUpdates")[0].Fields; p["timeout"] != "10" ||
		p["allowed_updates"] != `["message","edited_message","callback_query","my_chat_member"]` {
		t.Errorf("poll %v", p)
	}
	if drop := f.made("deleteWebhook"); len(drop) != 1 || drop[0].Fields["drop_pending_updates"] != "" {
		t.Errorf("deleteWebhook %v", drop)
	}
}

// Ids start anew at a random number after a quiet week (Bot API 10.1, Update).
func TestPollFollowsIDsDown(t *testing.T) {
	f := newFixture(t, map[string][]answer{"getUpdates": {
		updates(textUpdate(9000)), updates(textUpdate(40)), updates(),
	}})
	if err := f.run(t, 3); err != nil {
		t.Fatal(err)
	}
	equal(t, "offsets", f.offsets(), []string{"1", "9001", "41"})
}

func TestPollGetsPastTheUnreadable(t *testing.T) {
	strange := strings.Replace(said(`"paid_media":{"paid_media":[{"type":"live_photo"}]}`), "7", "501", 1)
	f := newFixture(t, map[string][]answer{"getUpdates": {
		updates(textUpdate(500), strange, `"noise"`, `{"update_id":502,"message":[]}`, textUpdate(503)), updates(),
	}})
	if err := f.run(t, 2); err != nil {
		t.Fatal(err)
	}
	equal(t, "taken", f.keys(), []string{"tg 500 text", "tg 501 foreign", "tg 502 ", "tg 503 text"})
	equal(t, "offsets", f.offsets(), []string{"1", "504"})
}

func TestPollAsksAgainForWhatWasNotStored(t *testing.T) {
	full := errors.New("disk full")
	f := newFixture(t, map[string][]answer{"getUpdates": {
		updates(textUpdate(500)), updates(textUpdate(500)), updates(),
	}}, func(f *fixture, o *telegram.Options) {
		o.Take = func(ctx context.Context, raws []desk.Raw) ([]desk.Notice, error) {
			if _, err := f.take(ctx, raws); len(f.taken) > 1 {
				return nil, err
			}
			return nil, full
		}
	})
	if err := f.run(t, 3); err != nil {
		t.Fatal(err)
	}
	equal(t, "offsets", f.offsets(), []string{"1", "1", "501"})
}

func TestPollSurvivesTheNetwork(t *testing.T) {
	t.Parallel() // it mostly waits
	f := newFixture(t, map[string][]answer{"getUpdates": {
		{cut: true}, {status: 502, body: "<html>Bad Gateway</html>"}, {body: `{"ok":true,"result":[{"upd`},
		{body: `{"ok":true,"result":5}`}, updates(textUpdate(500)), updates(),
	}})
	if err := f.run(t, 6); err != nil {
		t.Fatal(err)
	}
	equal(t, "offsets", f.offsets(), []string{"1", "1", "1", "1", "1", "501"})
	log := f.log.String()
	if strings.Count(log, "cannot be reached") != 1 || strings.Count(log, "reached again") != 1 {
		t.Errorf("log:\n%s", log)
	}
}

func TestPollWaitsAsAsked(t *testing.T) {
	busy := refuse(429, "Too Many Requests: retry after 7")
	busy.header = map[string]string{"Retry-After": "7"}
	f := newFixture(t, map[string][]answer{"getUpdates": {busy, updates()}})
	if err := f.run(t, 2); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.slept, []time.Duration{7 * time.Second}) {
		t.Errorf("slept %v", f.slept)
	}
}

func TestPollConflict(t *testing.T) {
	f := newFixture(t, map[string][]answer{"getUpdates": {
		refuse(409, "Conflict: terminated by other getUpdates request; "+
			"make sure that only one bot instance is running"),
		refuse(409, "Conflict: can't use getUpdates method while webhook is active; "+
			"use deleteWebhook to delete the webhook first"),
		updates(textUpdate(500)), updates(),
	}})
	if err := f.run(t, 4); err != nil {
		t.Fatal(err)
	}
	if want := []time.Duration{5 * time.Second, 5 * time.Second}; !slices.Equal(f.slept, want) {
		t.Errorf("slept %v", f.slept)
	}
	if n := len(f.made("deleteWebhook")); n != 2 {
		t.Errorf("%d calls of deleteWebhook", n)
	}
	if strings.Count(f.log.String(), "another program fetches") != 2 {
		t.Errorf("log:\n%s", f.log.String())
	}
	equal(t, "taken", f.keys(), []string{"tg 500 text"})
}

func TestTokenRefusedStops(t *testing.T) {
	for _, a := range []answer{refuse(401, "Unauthorized"), refuse(404, "Not Found")} {
		for _, method := range []string{"deleteWebhook", "getMe", "getUpdates"} {
			f := newFixture(t, map[string][]answer{method: {a}})
			if err := f.bot.Run(t.Context()); !errors.Is(err, telegram.ErrToken) {
				t.Errorf("%s: %v", method, err)
			}
			if n := len(f.made(method)); n != 1 {
				t.Errorf("%s called %d times", method, n)
			}
		}
	}
}

func TestStartWaitsForTheServer(t *testing.T) {
	busy := refuse(429, "Too Many Requests: retry after 40")
	busy.body = strings.Replace(busy.body, "{", `{"parameters":{"retry_after":40},`, 1)
	f := newFixture(t, map[string][]answer{"deleteWebhook": {{cut: true}, {status: 500, body: "x"}, busy, {}}})
	if err := f.run(t, 1); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.slept, []time.Duration{time.Second, 2 * time.Second, 40 * time.Second}) {
		t.Errorf("slept %v", f.slept)
	}
}

// Taps that nobody fetched for 150 seconds are gone.
func TestRedrawAfterAnOutage(t *testing.T) {
	var batch []string
	for id := range 100 {
		batch = append(batch, textUpdate(600+id))
	}
	for name, c := range map[string]struct {
		away time.Duration
		want []int // redraws done after each poll
	}{
		"short": {150 * time.Second, []int{0, 0, 0}},
		"long":  {151 * time.Second, []int{0, 1, 1}}, // the second poll brings fewer than could come
	} {
		t.Run(name, func(t *testing.T) {
			var redrew []int
			f := newFixture(t, map[string][]answer{"getUpdates": {
				updates(batch...), updates(textUpdate(800)), updates(), updates(),
			}}, func(f *fixture, o *telegram.Options) { o.Seen = noon().Add(-c.away) })
			ctx, cancel := context.WithCancel(t.Context())
			f.onCall = func(c call) {
				switch n := len(f.made("getUpdates")); {
				case c.Method == "getUpdates" && n > 1:
					redrew = append(redrew, f.redrew)
					if n == 4 {
						cancel()
					}
				}
			}
			if err := f.bot.Run(ctx); err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(redrew, c.want) {
				t.Errorf("redraws %v, want %v", redrew, c.want)
			}
		})
	}
}

// Whoever remembers when all was taken is told so now and then, and not before
// cards have been drawn again.
func TestCaughtUp(t *testing.T) {
	failing := errors.New("disk full")
	f := newFixture(t, map[string][]answer{"getUpdates": {updates(), updates(), updates(), updates()}},
		func(f *fixture, o *telegram.Options) {
			o.Seen = noon().Add(-time.Hour)
			o.Redraw = func(context.Context, time.Time) error {
				if f.redrew++; f.redrew == 1 {
					return failing
				}
				return nil
			}
		})
	if err := f.run(t, 4); err != nil {
		t.Fatal(err)
	}
	if f.redrew != 2 || !slices.Equal(f.caught, []time.Time{noon()}) || !f.bot.Current() {
		t.Errorf("redrew %d, caught up at %v, current %v", f.redrew, f.caught, f.bot.Current())
	}
}

// What people sent may wait on the server after a poll that was refused or
// could not be stored: nobody is reminded then.
func TestCurrentEndsWithAPollThatFailed(t *testing.T) {
	for name, second := range map[string]answer{
		"not stored": updates(textUpdate(500)), "network": {cut: true},
		"too many": refuse(429, "Too Many Requests: retry after 7"),
		"conflict": refuse(409, "Conflict: terminated by other getUpdates request"),
	} {
		var current []bool // before each poll but the first
		f := newFixture(t, map[string][]answer{"getUpdates": {updates(), second, updates(), updates()}},
			func(_ *fixture, o *telegram.Options) {
				o.Take = func(context.Context, []desk.Raw) ([]desk.Notice, error) {
					return nil, errors.New("disk full")
				}
			})
		ctx, cancel := context.WithCancel(t.Context())
		f.onCall = func(c call) {
			if n := len(f.made("getUpdates")); c.Method == "getUpdates" && n > 1 {
				if current = append(current, f.bot.Current()); n == 4 {
					cancel()
				}
			}
		}
		if err := f.bot.Run(ctx); err != nil {
			t.Fatal(err)
		}
		if want := []bool{true, false, true}; !slices.Equal(current, want) {
			t.Errorf("%s: current %v, want %v", name, current, want)
		}
	}
}

func TestTapsAreAnsweredAndGroupsTold(t *testing.T) {
	inGroup := func(id int) string {
		return fmt.Sprintf(`{"update_id":%d,"message":{"message_id":3,%s,%s,"text":"/open"}}`, id, ann, group)
	}
	long := strings.Repeat("é", 300)
	f := newFixture(t, map[string][]answer{"getUpdates": {
		updates(tapUpdate(500), tapUpdate(501), inGroup(502), inGroup(503), textUpdate(504)), updates(),
	}}, func(f *fixture, o *telegram.Options) {
		o.Take = func(context.Context, []desk.Raw) ([]desk.Notice, error) {
			return []desk.Notice{{Key: "501", Text: long}}, nil
		}
	})
	ctx, cancel := context.WithCancel(t.Context())
	f.onCall = func(call) {
		if len(f.made("answerCallbackQuery")) == 2 && len(f.made("sendMessage")) == 1 {
			cancel()
		}
	}
	if err := f.bot.Run(ctx); err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, c := range f.made("answerCallbackQuery") {
		texts[c.Fields["callback_query_id"]] = c.Fields["text"]
	}
	if texts[`"q500"`] != "" || texts[`"q501"`] != `"`+strings.Repeat("é", 199)+`…"` {
		t.Errorf("answers %q", texts)
	}
	told := f.made("sendMessage")[0].Fields
	if told["chat_id"] != "-55" || told["text"] != `"I talk in private chats only."` {
		t.Errorf("group was told %v", told)
	}
}

func TestLink(t *testing.T) {
	f := newFixture(t, nil)
	if got := f.bot.Link("abc_1"); got != "/start abc_1" {
		t.Errorf("before the server is reached: %q", got)
	}
	if err := f.run(t, 1); err != nil {
		t.Fatal(err)
	}
	if got := f.bot.Link("abc_1"); got != "https://t.me/shop_bot?start=abc_1" {
		t.Errorf("got %q", got)
	}
}

func TestCommandsArePublished(t *testing.T) {
	f := newFixture(t, nil, func(_ *fixture, o *telegram.Options) {
		o.Commands = []telegram.Command{{Name: "open", Text: "Load the machine"}}
	})
	ctx, cancel := context.WithCancel(t.Context())
	f.onCall = func(c call) {
		if c.Method == "setMyCommands" {
			cancel()
		}
	}
	if err := f.bot.Run(ctx); err != nil {
		t.Fatal(err)
	}
	got := f.made("setMyCommands")[0].Fields["commands"]
	if got != `[{"command":"open","description":"Load the machine"}]` {
		t.Error(got)
	}
}

// The token is in every address, so every way to fail is tried.
func TestTokenIsNeverLogged(t *testing.T) {
	t.Parallel() // it mostly waits
	f := newFixture(t, map[string][]answer{
		"deleteWebhook": {{cut: true}, {status: 500, body: "x"}, {}},
		"getMe":         {{cut: true}, {body: `{"ok":true,"result":{"id":1,"username":"b"}}`}},
		"setMyCommands": {refuse(400, "Bad Request: see /bot"+token+"/setMyCommands")},
		"getUpdates": {
			{cut: true}, {status: 502, body: "<html>/bot" + token + "/getUpdates</html>"},
			refuse(500, "Internal: /bot"+token), refuse(409, "Conflict: "+token), updates(tapUpdate(500)), updates(),
		},
		"answerCallbackQuery": {{cut: true}},
		"getFile":             {{cut: true}},
	}, func(_ *fixture, o *telegram.Options) { o.Commands = []telegram.Command{{Name: "open", Text: "x"}} })
	if err := f.run(t, 6); err != nil {
		t.Fatal(err)
	}
	f.Close()
	_, sendErr := f.bot.Send(t.Context(), out(0))
	_, fetchErr := f.bot.Fetch(t.Context(), "x")
	_, newErr := telegram.New(telegram.Options{Token: token + "/../x", URL: f.URL})
	_, urlErr := telegram.New(telegram.Options{Token: token, URL: "ftp://" + token})
	all := f.log.String() + fmt.Sprint(sendErr, fetchErr, newErr, urlErr)
	if strings.Contains(all, "SECRET") || sendErr == nil || fetchErr == nil || newErr == nil || urlErr == nil {
		t.Errorf("log and errors:\n%s", all)
	}
	if !strings.Contains(all, "500") {
		t.Error("nothing was logged at all")
	}
}

func TestInputsKeepWhatCameIn(t *testing.T) {
	f := newFixture(t, map[string][]answer{"getUpdates": {updates(textUpdate(500), textUpdate(501)), updates()}})
	if err := f.run(t, 2); err != nil {
		t.Fatal(err)
	}
	first, second := f.taken[0][0], f.taken[0][1]
	at := time.Unix(1795590000, 0).UTC()
	want := chat.Input{Chat: "tg:1000001", Kind: chat.Text, Text: "t500", At: at, Message: 3}
	if first.Input != want || first.Hash == second.Hash || first.Hash == [32]byte{} {
		t.Errorf("got %+v", first)
	}
}
