package telegram

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"shopfloat/internal/wire"
)

// Bounds of a call.
const (
	pollWait    = 10 * time.Second // how long the server may hold a poll that has nothing to tell
	callTimeout = 30 * time.Second // any call, a held poll included
	answerMax   = 8 << 20          // bytes of an answer; the server cuts a poll at 4 MiB
	idleConns   = 100              // kept: one a call under way, of messages, of errands, the poll
)

// newHTTP makes a client that keeps a connection for each sender instead of two
// in all, and follows no redirection, since it would carry the token along.
func newHTTP() *http.Client {
	return &http.Client{
		Timeout: callTimeout,
		Transport: &http.Transport{
			Proxy:                 http.ProxyFromEnvironment,
			DialContext:           (&net.Dialer{Timeout: 10 * time.Second, KeepAlive: 30 * time.Second}).DialContext,
			ForceAttemptHTTP2:     true,
			MaxIdleConns:          idleConns,
			MaxIdleConnsPerHost:   idleConns,
			IdleConnTimeout:       90 * time.Second,
			TLSHandshakeTimeout:   10 * time.Second,
			ExpectContinueTimeout: time.Second,
		},
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}
}

// client makes single calls.
type client struct {
	http  *http.Client // for the library, and what is fetched
	calls caller       // for what goes out
	url   string       // without the token
	token string
}

// caller makes calls to the chat server.
type caller interface {
	Post(ctx context.Context, call *wire.Call) (*wire.Answer, error)
}

// newClient makes a client of a server whose address [Check] has passed.
func newClient(address, token string) (*client, error) {
	u, err := url.Parse(address)
	if err != nil {
		return nil, err
	}
	c := &client{http: newHTTP(), url: strings.TrimRight(address, "/"), token: token}
	c.calls = wire.New(u, callTimeout, idleConns, nil)
	if proxy, err := http.ProxyFromEnvironment(&http.Request{URL: u}); proxy != nil || err != nil {
		c.calls = through{c.http, c.url}
	}
	return c, nil
}

// through makes calls where a proxy lies between.
type through struct {
	*http.Client
	url string
}

// Post makes a call.
func (t through) Post(ctx context.Context, call *wire.Call) (*wire.Answer, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, t.url+call.Path, bytes.NewReader(call.Body))
	if err != nil {
		return nil, errors.New("the address cannot be used")
	}
	req.Header.Set("Content-Type", call.Type)
	resp, err := t.Do(req)
	if err != nil {
		return nil, withoutURL(err)
	}
	return wire.Read(resp, call)
}

// refusal is an answer other than ok.
type refusal struct {
	Method     string
	Status     int           // HTTP status
	Text       string        // lower case, the token taken out
	RetryAfter time.Duration // 429 only
	MovedTo    int64         // the group's new id
}

func (r *refusal) Error() string {
	return fmt.Sprintf("%s: status %d: %s", r.Method, r.Status, r.Text)
}

// says looks loosely, since the texts are no stable interface.
func (r *refusal) says(part string) bool { return strings.Contains(r.Text, part) }

// envelope is what every answer is wrapped in.
type envelope struct {
	OK          bool            `json:"ok"`
	Result      json.RawMessage `json:"result"`
	Description string          `json:"description"`
	Parameters  struct {
		RetryAfter int   `json:"retry_after"`
		MovedTo    int64 `json:"migrate_to_chat_id"`
	} `json:"parameters"`
}

// call makes one call with a JSON body and gives its result. The error is a *refusal, or comes
// from the network; it never holds the address.
func (c *client) call(ctx context.Context, method string, params any) (json.RawMessage, error) {
	body, err := json.Marshal(params)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", method, err)
	}
	return c.post(ctx, method, "application/json", body)
}

// post makes a call with a body of any type.
func (c *client) post(ctx context.Context, method, contentType string, body []byte) (json.RawMessage, error) {
	a, err := c.calls.Post(ctx, &wire.Call{
		Path: "/bot" + c.token + "/" + method, Type: contentType, Body: body, Most: answerMax, Enough: made,
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", method, withoutURL(err))
	}
	if id, ok := messageNumber(a.Body, messageStart); ok {
		return append(strconv.AppendInt([]byte(resultStart), id, 10), '}'), nil
	}
	env, refused, err := readEnvelope(a, method, c.token)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", method, err)
	}
	if refused != nil {
		return nil, refused
	}
	return env.Result, nil
}

// messageStart begins an answer that tells of a message made or changed; the
// server puts the number first. The rest, all of the message again, is of no
// use and is not kept: that took 5 % of all time and 6 % of all memory asked for.
const messageStart = `{"ok":true,"result":` + resultStart

// resultStart begins the result in it.
const resultStart = `{"message_id":`

// made tells that an answer is of a message made or changed.
func made(begin []byte) bool {
	_, ok := messageNumber(begin, messageStart)
	return ok
}

// messageNumber is what stands behind the start of an answer or result, within
// its first bytes.
func messageNumber(whole []byte, start string) (id int64, ok bool) {
	rest, ok := bytes.CutPrefix(whole[:min(len(whole), wire.BeginMax)], []byte(start))
	end := bytes.IndexAny(rest, ",}")
	if !ok || end < 0 {
		return 0, false
	}
	id, err := strconv.ParseInt(string(rest[:end]), 10, 64)
	return id, err == nil && id > 0
}

// readEnvelope reads a whole answer; exactly one of the three is set.
func readEnvelope(a *wire.Answer, method, token string) (*envelope, *refusal, error) {
	var env envelope
	if err := json.Unmarshal(a.Body, &env); err != nil { // a proxy's page, or cut off
		return nil, nil, fmt.Errorf("status %d without a readable answer", a.Status)
	}
	if env.OK {
		return &env, nil, nil
	}
	r := &refusal{Method: method, Status: a.Status, MovedTo: env.Parameters.MovedTo}
	r.Text = strings.ToLower(strings.ReplaceAll(env.Description, token, "***"))
	if r.Status == http.StatusTooManyRequests {
		r.RetryAfter = retryAfter(env.Parameters.RetryAfter, a.Retry)
	}
	return nil, r, nil
}

// retryMax is the longest a chat waits because its server says so: a figure
// beyond it is a mistake of the server, which would silence the chat for years.
const retryMax = 15 * time.Minute

// retryAfter is at least a second.
func retryAfter(seconds int, header string) time.Duration {
	if seconds <= 0 {
		seconds, _ = strconv.Atoi(header) // not a number: a second
	}
	return time.Duration(min(max(seconds, 1), int(retryMax/time.Second))) * time.Second
}

// withoutURL takes the address off an error of package http.
func withoutURL(err error) error {
	var u *url.Error
	if errors.As(err, &u) {
		return u.Err
	}
	return err
}
