package botapitest_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
)

// first is the id of the first update of every server below.
const first = 100

func queued(t *testing.T, texts int) *botapitest.Server {
	t.Helper()
	srv := withAnn(t, botapitest.Options{FirstUpdateID: first})
	for i := range texts {
		srv.SendText(ann, fmt.Sprint("text ", i))
	}
	return srv
}

// poll asks for updates, each time 4 s later, past the rule against quick repeats, and gives their ids less
// first.
func poll(t *testing.T, srv *botapitest.Server, body string) []int64 {
	t.Helper()
	srv.SetNow(srv.Now().Add(4 * time.Second))
	return ids(t, ask(t, srv, "getUpdates", body))
}

func ids(t *testing.T, r reply) []int64 {
	t.Helper()
	out := []int64{}
	for _, u := range decode[[]struct {
		ID int64 `json:"update_id"`
	}](t, r) {
		out = append(out, u.ID-first)
	}
	return out
}

func pending(srv *botapitest.Server) (n int) {
	srv.View(func(v botapitest.Snapshot) { n = v.Pending() })
	return n
}

// FACTS.md A, getUpdates: offset and limit. Each case starts with five updates, ids 100 to 104.
func TestOffsetAndLimit(t *testing.T) {
	for _, tt := range []struct {
		name, body string
		want       []int64
		left       int
	}{
		{"no offset", `{}`, []int64{0, 1, 2, 3, 4}, 5},
		{"offset 1 as the library starts", `{"offset":1}`, []int64{0, 1, 2, 3, 4}, 5},
		{"confirms below the offset", `{"offset":102}`, []int64{2, 3, 4}, 3},
		{"confirms all", `{"offset":105}`, []int64{}, 0},
		{"ten above the newest counts", `{"offset":114}`, []int64{}, 0},
		{"too far above is ignored", `{"offset":116}`, []int64{0, 1, 2, 3, 4}, 5},
		{"far too far above is ignored", `{"offset":9000000000}`, []int64{0, 1, 2, 3, 4}, 5},
		{"negative keeps the newest", `{"offset":-2}`, []int64{3, 4}, 2},
		{"negative beyond the queue", `{"offset":-50}`, []int64{0, 1, 2, 3, 4}, 5},
		{"far below the oldest is ignored", `{"offset":-4000000000}`, []int64{0, 1, 2, 3, 4}, 5},
		{"limit", `{"limit":2}`, []int64{0, 1}, 5},
		{"limit as text", `{"limit":"2"}`, []int64{0, 1}, 5},
		{"limit below 1", `{"limit":0}`, []int64{0}, 5},
		{"unreadable limit", `{"limit":"many"}`, []int64{0, 1, 2, 3, 4}, 5},
	} {
		t.Run(tt.name, func(t *testing.T) {
			srv := queued(t, 5)
			if got := poll(t, srv, tt.body); !slices.Equal(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
			if got := pending(srv); got != tt.left {
				t.Errorf("left %d, want %d", got, tt.left)
			}
		})
	}
}

// What is handed out stays until a later offset confirms it, and a batch has at most 100 updates.
func TestUnconfirmedComeAgain(t *testing.T) {
	srv := queued(t, 150)
	for range 2 {
		if got := poll(t, srv, `{"limit":1000}`); len(got) != 100 || got[0] != 0 {
			t.Errorf("got %d from %d", len(got), got[0])
		}
	}
	if got := poll(t, srv, `{"offset":200}`); len(got) != 50 || got[0] != 100 {
		t.Errorf("after confirming: %v", got)
	}
}

// Retention: a day for messages, 150 s for taps, by the server's clock (FACTS.md A).
func TestRetention(t *testing.T) {
	srv := withAnn(t, botapitest.Options{FirstUpdateID: first})
	began := srv.Now()
	m := send(t, srv, "text", "card", "reply_markup", row("Yes"))
	srv.SendText(ann, "hello")
	if _, err := srv.Tap(ann, m.ID, "Yes"); err != nil {
		t.Fatal(err)
	}
	for i, tt := range []struct {
		after time.Duration
		want  []int64
	}{
		{149 * time.Second, []int64{0, 1}},
		{150 * time.Second, []int64{0}},
		{24*time.Hour - time.Second, []int64{0}},
		{24 * time.Hour, []int64{}},
	} {
		srv.SetNow(began.Add(tt.after))
		body := fmt.Sprintf(`{"offset":%d}`, i) // a new one each time, past the rule against quick repeats
		if got := ids(t, ask(t, srv, "getUpdates", body)); !slices.Equal(got, tt.want) {
			t.Errorf("after %v: %v, want %v", tt.after, got, tt.want)
		}
	}
}

// allowed_updates sticks, an empty list means the default, three kinds are off by default, and what is queued
// already stays (FACTS.md A).
func TestAllowedUpdates(t *testing.T) {
	srv := withAnn(t, botapitest.Options{FirstUpdateID: first})
	membership := func() {
		srv.SetState(ann, botapitest.Blocked)
		srv.SetState(ann, botapitest.Active)
	}
	count := func(name string, want int) {
		t.Helper()
		if got := pending(srv); got != want {
			t.Errorf("%s: %d pending, want %d", name, got, want)
		}
	}
	srv.SendText(ann, "a")
	poll(t, srv, `{"allowed_updates":["message"]}`)
	count("queued before", 1)
	membership()
	srv.SendText(ann, "b")
	count("only messages", 2)
	poll(t, srv, `{}`)
	membership()
	count("list sticks", 2)
	poll(t, srv, `{"allowed_updates":"[\"my_chat_member\"]"}`)
	srv.SendText(ann, "c")
	count("only membership", 2)
	poll(t, srv, `{"allowed_updates":[]}`)
	srv.SendText(ann, "d")
	membership()
	count("default", 5)
}

// A tap the bot did not ask for waits for no answer.
func TestUnwantedTap(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	poll(t, srv, `{"allowed_updates":["message"]}`)
	srv.TapData(ann, ann, 1, "x")
	if r := srv.Report(); pending(srv) != 0 || len(r.Unanswered) != 0 {
		t.Errorf("pending %d, unanswered %v", pending(srv), r.Unanswered)
	}
}

// One update over 64 KiB is dropped and takes no id; a batch stops at 4 MiB (FACTS.md A).
func TestUpdateSizes(t *testing.T) {
	srv := withAnn(t, botapitest.Options{FirstUpdateID: first})
	text := func(n int) string { return `{"text":"` + strings.Repeat("x", n) + `"}` }
	if id := srv.InjectRaw("message", text(64<<10)); id != 0 {
		t.Errorf("over 64 KiB got id %d", id)
	}
	for i := range 80 {
		if id := srv.InjectRaw("message", text(60_000)); id != first+int64(i) {
			t.Fatalf("update %d got id %d", i, id)
		}
	}
	r := ask(t, srv, "getUpdates", `{}`)
	if n := len(decode[[]json.RawMessage](t, r)); n != 69 { // 69 updates of 60 kB are below 4 MiB, 70 above
		t.Errorf("batch of %d in %d bytes", n, len(r.Result))
	}
}

// Injected deliveries: the same batch twice, ids that jump down, kinds and subtypes nobody knows
// (FACTS.md E).
func TestOddDeliveries(t *testing.T) {
	srv := queued(t, 2)
	if got := poll(t, srv, `{}`); !slices.Equal(got, []int64{0, 1}) {
		t.Fatal(got)
	}
	srv.RepeatBatch()
	if got := poll(t, srv, `{"offset":102}`); !slices.Equal(got, []int64{0, 1}) {
		t.Errorf("repeated batch: %v", got)
	}
	if got := poll(t, srv, `{"offset":102}`); len(got) != 0 {
		t.Errorf("after the repeat: %v", got)
	}
	srv.JumpID(first - 50)
	srv.SendText(ann, "low")
	if got := poll(t, srv, `{"offset":102}`); !slices.Equal(got, []int64{-50}) {
		t.Errorf("after the jump: %v", got)
	}
	srv.InjectUnknownKind()
	srv.InjectUnknownSubtype(ann)
	r := ask(t, srv, "getUpdates", `{"offset":51}`)
	text := string(r.Result)
	if !strings.Contains(text, `"moon_phase"`) || !strings.Contains(text, `"live_photo"`) {
		t.Errorf("unknown kind and subtype: %s", text)
	}
}
