// Package wire carries HTTP/1.1 calls to one server over connections that it keeps, each in
// the goroutine of whoever calls. Package net/http's own transport has two goroutines for each
// connection, which hand every call over and back: a third of what a small call costs. An answer
// of the plainest kind, as nearly all are, is read here; any other is read by package net/http.
package wire

import (
	"bufio"
	"context"
	"crypto/tls"
	"errors"
	"net"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"
)

// Bounds of what is kept and waited for.
const (
	dialTimeout = 10 * time.Second
	idleLife    = 90 * time.Second // a connection unused for so long is closed
)

// Wire makes calls to the server of one address: its token is in the path, and goes to nobody else.
// It follows no redirection, asks for no compression and keeps no cookies. Proxies are not its
// business. It is safe for use by several goroutines.
type Wire struct {
	scheme, host string // as in the address
	path         string // before that of each call
	dial         string // host and port
	timeout      time.Duration
	most         int // connections kept while nobody uses them
	tls          *tls.Config

	mu   sync.Mutex
	idle []*conn // the one used last at the end
}

// conn is a connection that carries one call at a time.
type conn struct {
	net.Conn
	r    *bufio.Reader
	w    *bufio.Writer
	ends *time.Timer // the call under way, or else the connection
}

// giveUp ends the call under way.
func (c *conn) giveUp() { _ = c.SetDeadline(time.Unix(1, 0)) } // one that cannot be set is closed

// New makes a wire to the server of an address, http or https. A call takes at most timeout
// from its begin to the end of its answer. At most so many connections are kept while nobody
// uses them. config is for https; nil will do.
func New(address *url.URL, timeout time.Duration, most int, config *tls.Config) *Wire {
	port := address.Port()
	if port == "" {
		port = address.Scheme // package net knows both by name
	}
	if config == nil {
		config = &tls.Config{}
	}
	config = config.Clone()
	config.ServerName, config.NextProtos = address.Hostname(), []string{"http/1.1"}
	return &Wire{
		scheme: address.Scheme, host: address.Host, path: strings.TrimRight(address.EscapedPath(), "/"),
		dial: net.JoinHostPort(address.Hostname(), port), timeout: timeout, most: most, tls: config,
	}
}

// Post makes a call. After an error it is not known whether the call was carried out,
// unless no connection could be had.
func (w *Wire) Post(ctx context.Context, call *Call) (*Answer, error) {
	if strings.ContainsFunc(call.Path+call.Type, func(r rune) bool { return r < ' ' || r > '~' }) ||
		strings.Contains(call.Path, " ") {
		return nil, errPath
	}
	c, err := w.take(ctx)
	if err != nil {
		return nil, err
	}
	c.ends.Reset(w.timeout)
	given := context.AfterFunc(ctx, c.giveUp)
	err = c.write(w, call)
	var a *Answer
	keep := false
	if err == nil {
		a, keep, err = c.answer(call)
	}
	inTime := c.ends.Stop()
	if heard := given(); err != nil || !keep || !inTime || !heard || c.r.Buffered() > 0 {
		_ = c.Close()
	} else {
		w.keep(c)
	}
	if err != nil && ctx.Err() != nil {
		err = ctx.Err()
	}
	return a, err
}

// take gives a connection that nobody uses, or a new one.
func (w *Wire) take(ctx context.Context) (*conn, error) {
	for {
		c := w.kept()
		if c == nil {
			return w.connect(ctx)
		}
		if c.ends.Stop() && alive(c.Conn) {
			return c, nil
		}
		_ = c.Close()
	}
}

// kept takes the connection that was used last.
func (w *Wire) kept() *conn {
	w.mu.Lock()
	defer w.mu.Unlock()
	n := len(w.idle)
	if n == 0 {
		return nil
	}
	c := w.idle[n-1]
	w.idle[n-1] = nil
	w.idle = w.idle[:n-1]
	return c
}

// connect makes a new connection.
func (w *Wire) connect(ctx context.Context) (*conn, error) {
	ctx, cancel := context.WithTimeout(ctx, dialTimeout)
	defer cancel()
	var d net.Dialer
	c, err := d.DialContext(ctx, "tcp", w.dial)
	if err != nil {
		return nil, err
	}
	if w.scheme == "https" {
		t := tls.Client(c, w.tls)
		if err := t.HandshakeContext(ctx); err != nil {
			return nil, errors.Join(err, c.Close())
		}
		c = t
	}
	made := &conn{Conn: c, r: bufio.NewReader(c), w: bufio.NewWriter(c)}
	made.ends = time.AfterFunc(idleLife, func() { w.end(made) })
	return made, nil
}

// end closes a connection that was unused for too long, or gives up its call.
func (w *Wire) end(c *conn) {
	w.mu.Lock()
	at := slices.Index(w.idle, c)
	if at >= 0 {
		w.idle = slices.Delete(w.idle, at, at+1)
	}
	w.mu.Unlock()
	if at < 0 {
		c.giveUp()
		return
	}
	_ = c.Close()
}

// keep puts back a connection whose answer was read to its end. The one unused for longest
// goes where there are too many.
func (w *Wire) keep(c *conn) {
	c.ends.Reset(idleLife)
	w.mu.Lock()
	w.idle = append(w.idle, c)
	var old *conn
	if len(w.idle) > w.most {
		old = w.idle[0]
		w.idle = slices.Delete(w.idle, 0, 1)
	}
	w.mu.Unlock()
	if old != nil {
		old.ends.Stop()
		_ = old.Close()
	}
}
