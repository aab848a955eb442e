package telegram

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"shopfloat/internal/desk"
	"shopfloat/internal/wire"
)

const (
	pollLimit    = 100               // updates in one answer (Bot API 10.1, getUpdates)
	tapLife      = 150 * time.Second // a tap not fetched by then is gone (published server source)
	caughtEvery  = 5 * time.Second
	conflictWait = 5 * time.Second
	roomMax      = 256 << 10
)

// tap is the HTTP client given to the library. It stores and steps what a poll
// brings before the library sees the answer, and hands on ids only: the next
// poll, which tells the server to forget these updates, can thus not happen
// before they have taken effect.
type tap struct {
	*Bot
	stop    func(error) // ends the bot for good
	seen    time.Time   // last answered poll
	told    time.Time   // what Caught was told last
	missed  bool        // taps may have been lost since cards were drawn last
	back    time.Time   // when the server was reached again, where taps were missed
	failing bool
	room    []byte       // of the last answer
	last    atomic.Int64 // seen, for others to read
	current atomic.Bool  // the last poll went well and left nothing behind
}

// Do makes the library's calls. It never returns context.Canceled unless the
// request was cancelled, since that ends the library's poller for good.
func (t *tap) Do(r *http.Request) (*http.Response, error) {
	resp, err := t.do(r)
	if err == nil {
		return resp, nil
	}
	if err = withoutURL(err); errors.Is(err, context.Canceled) && r.Context().Err() == nil {
		err = errors.New("the call was given up")
	}
	return nil, err
}

func (t *tap) do(r *http.Request) (*http.Response, error) {
	resp, err := t.client.http.Do(r)
	if !strings.HasSuffix(r.URL.Path, "/getUpdates") {
		return t.masked(resp, err)
	}
	if err == nil {
		defer func() { _ = resp.Body.Close() }() // read to its end or given up
		var list []Received
		var refused *refusal
		switch list, refused, err = t.polled(resp); {
		case refused != nil:
			return t.refused(r.Context(), refused)
		case err == nil:
			t.well()
			return t.updates(r.Context(), list)
		}
	}
	if r.Context().Err() == nil {
		t.ill(withoutURL(err))
	}
	return nil, err
}

// polled reads the answer to a poll. Most are a list and nothing else, and are
// read once; any other is taken apart first.
func (t *tap) polled(resp *http.Response) ([]Received, *refusal, error) {
	a, err := wire.Read(resp, &wire.Call{Most: answerMax, Room: t.room})
	if err != nil {
		return nil, nil, withoutURL(err)
	}
	if cap(a.Body) <= roomMax { // nothing of it is kept beyond this answer
		t.room = a.Body
	}
	now := t.options.Now()
	if rest, ok := bytes.CutPrefix(a.Body, []byte(`{"ok":true,"result":`)); ok {
		if list, err := DecodeList(bytes.TrimSuffix(rest, []byte("}")), now); err == nil {
			return list, nil, nil
		}
	}
	env, refused, err := readEnvelope(a, "getUpdates", t.client.token)
	if err != nil || refused != nil {
		return nil, refused, err
	}
	list, err := DecodeList(env.Result, now)
	return list, nil, err
}

// masked takes the token out of an answer, since the library quotes from it.
func (t *tap) masked(resp *http.Response, err error) (*http.Response, error) {
	if err != nil {
		return nil, err
	}
	defer func() { _ = resp.Body.Close() }() // read to its end or given up
	body, err := io.ReadAll(io.LimitReader(resp.Body, answerMax))
	if err != nil {
		return nil, err
	}
	body = bytes.ReplaceAll(body, []byte(t.client.token), []byte("***"))
	return &http.Response{
		StatusCode: resp.StatusCode, Header: resp.Header,
		Body: io.NopCloser(bytes.NewReader(body)), ContentLength: int64(len(body)),
	}, nil
}

// updates lets the desk take what came and answers the library with ids.
func (t *tap) updates(ctx context.Context, list []Received) (*http.Response, error) {
	updates, raws := t.decode(list)
	notices, err := t.take(ctx, raws)
	if err != nil {
		t.answer(ctx, withNotice(updates, notices), notices) // these come again; a tap may not wait so long
		t.current.Store(false)
		t.log.Error("updates could not be stored and are asked for again", "updates", len(raws), "why", err)
		return nil, fmt.Errorf("updates not stored: %w", err)
	}
	t.answer(ctx, updates, notices)
	t.current.Store(len(list) < pollLimit)
	if len(list) < pollLimit {
		t.caughtUp(ctx)
	}
	return stubs(updates), nil
}

// withNotice are the updates that something is to be said about at once.
func withNotice(updates []Update, notices []desk.Notice) []Update {
	return slices.DeleteFunc(slices.Clone(updates), func(u Update) bool {
		return !slices.ContainsFunc(notices, func(n desk.Notice) bool {
			return n.Key == strconv.FormatInt(u.ID, 10)
		})
	})
}

// caughtUp follows a poll that left nothing behind.
func (t *tap) caughtUp(ctx context.Context) {
	if t.missed {
		if err := t.options.Redraw(ctx, t.back); err != nil {
			t.log.Error("open cards could not be shown again", "why", err)
			return
		}
		t.missed = false
	}
	if t.seen.Sub(t.told) >= caughtEvery {
		t.told = t.seen
		t.options.Caught(t.seen)
	}
}

// take leaves the desk alone when nothing came.
func (t *tap) take(ctx context.Context, raws []desk.Raw) ([]desk.Notice, error) {
	if len(raws) == 0 {
		return nil, nil
	}
	return t.options.Take(ctx, raws)
}

func (t *tap) decode(list []Received) ([]Update, []desk.Raw) {
	updates, raws := make([]Update, 0, len(list)), make([]desk.Raw, 0, len(list))
	for _, u := range list {
		if u.Err != nil {
			t.log.Warn("an update holds something unknown", "update", u.ID) // not why: it may quote the chat
		}
		if u.ID == 0 {
			continue
		}
		updates = append(updates, u.Update)
		raws = append(raws, desk.Raw{
			Source: Source, Key: strconv.FormatInt(u.ID, 10), Hash: sha256.Sum256(u.Raw), Input: u.Input,
		})
	}
	return updates, raws
}

// answer stops the sign of waiting on every tapped button, and tells groups
// where the bot talks.
func (t *tap) answer(ctx context.Context, updates []Update, notices []desk.Notice) {
	texts := make(map[string]string, len(notices))
	for _, n := range notices {
		texts[n.Key] = n.Text
	}
	for _, u := range updates {
		if u.Query != "" {
			t.errands.answer(ctx, u.Query, texts[strconv.FormatInt(u.ID, 10)])
		}
		if u.Group != 0 {
			t.errands.privateOnly(u.Group, t.options.Now())
		}
	}
}

// refused handles an answer other than ok. The library sees an error and polls
// again at its own pace, which knows nothing of what the server asked for.
func (t *tap) refused(ctx context.Context, r *refusal) (*http.Response, error) {
	t.current.Store(false)
	switch r.Status {
	case http.StatusUnauthorized, http.StatusNotFound:
		t.stop(ErrToken)
	case http.StatusTooManyRequests:
		t.log.Warn("the chat server asks to wait", "for", r.RetryAfter)
		return nil, errors.Join(r, t.options.Sleep(ctx, r.RetryAfter))
	case http.StatusConflict:
		t.log.Error("another program fetches this bot's messages; stop one of the two", "why", r.Text)
		if r.says("webhook") {
			_ = t.unhook(ctx) // the next poll tells
		}
		return nil, errors.Join(r, t.options.Sleep(ctx, conflictWait))
	default:
		t.ill(r)
	}
	return nil, r
}

// ill and well log the first failure of a row and its end.
func (t *tap) ill(err error) {
	if !t.failing {
		t.log.Warn("the chat server cannot be reached; trying on", "why", err)
	}
	t.failing = true
	t.current.Store(false)
}

func (t *tap) well() {
	if t.failing {
		t.log.Info("the chat server is reached again")
	}
	t.failing = false
	now := t.options.Now().Round(0) // by the calendar: a computer that slept missed taps too
	if !t.seen.IsZero() && now.Sub(t.seen) > tapLife {
		t.missed, t.back = true, now
	}
	t.seen = now
	t.last.Store(now.UnixNano())
}

// stubs is an answer that holds the ids of updates and nothing else.
func stubs(updates []Update) *http.Response {
	b := []byte(`{"ok":true,"result":[`)
	for i, u := range updates {
		if i > 0 {
			b = append(b, ',')
		}
		b = strconv.AppendInt(append(b, `{"update_id":`...), u.ID, 10)
		b = append(b, '}')
	}
	b = append(b, "]}"...)
	return &http.Response{
		StatusCode: http.StatusOK, Header: http.Header{"Content-Type": {"application/json"}},
		Body: io.NopCloser(bytes.NewReader(b)), ContentLength: int64(len(b)),
	}
}
