// Package wire carries HTTP/1.1 calls to one server over connections that it keeps, each in
// the goroutine of whoever calls. Package net/http writes requests and reads answers; its own
// transport has two goroutines for each connection, which hand every call over and back: a
// third of what a small call costs.
package wire

import (
	"bufio"
	"context"
	"crypto/tls"
	"errors"
	"io"
	"net"
	"net/http"
	"net/url"
	"slices"
	"sync"
	"time"
)

// Bounds of what is kept and waited for.
const (
	dialTimeout = 10 * time.Second
	idleLife    = 90 * time.Second // a connection unused for so long is closed
	informMax   = 5                // answers that only say that another will come (1xx, RFC 9110, 15.2)
	leftMax     = 4 << 10          // bytes of an answer that are read for whoever closes it early
)

// Wire is an [http.RoundTripper] for the server of one address. Another address is refused. It
// follows no redirection, asks for no compression and keeps no cookies. Proxies are not its
// business. It is safe for use by several goroutines.
type Wire struct {
	scheme, host string // as in the address
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
	return &Wire{scheme: address.Scheme, host: address.Host, dial: net.JoinHostPort(address.Hostname(), port),
		timeout: timeout, most: most, tls: config}
}

// errElsewhere is about a call to another server.
var errElsewhere = errors.New("wire: the call is to another server")

// RoundTrip makes a call. After an error it is not known whether the call was carried out,
// unless no connection could be had.
func (w *Wire) RoundTrip(req *http.Request) (*http.Response, error) {
	if req.URL.Scheme != w.scheme || req.URL.Host != w.host {
		return nil, errors.Join(errElsewhere, closeBody(req))
	}
	ctx := req.Context()
	c, err := w.take(ctx)
	if err != nil {
		return nil, errors.Join(err, closeBody(req))
	}
	c.ends.Reset(w.timeout)
	given := context.AfterFunc(ctx, c.giveUp)
	resp, err := c.call(req)
	if err != nil {
		given()
		c.ends.Stop()
		_ = c.Close()
		if ctx.Err() != nil {
			err = ctx.Err()
		}
		return nil, err
	}
	resp.Body = &body{from: resp.Body, conn: c, wire: w, given: given, spent: resp.Close}
	return resp, nil
}

func closeBody(req *http.Request) error {
	if req.Body == nil {
		return nil
	}
	return req.Body.Close()
}

// call writes a request and reads the head of its answer.
func (c *conn) call(req *http.Request) (*http.Response, error) {
	err := req.Write(c.w)
	if err == nil {
		err = c.w.Flush()
	}
	if err != nil {
		return nil, err
	}
	for range informMax {
		resp, err := http.ReadResponse(c.r, req)
		if err != nil || resp.StatusCode >= http.StatusOK {
			return resp, err
		}
	}
	return nil, errors.New("wire: the server says again and again that an answer will come")
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

// body is the body of an answer. Read to its end it gives its connection back.
type body struct {
	from  io.ReadCloser
	conn  *conn
	wire  *Wire
	given func() bool // ends the waiting for the context; false: that was given up
	spent bool        // the connection is of no more use
	over  bool
}

func (b *body) Read(p []byte) (int, error) {
	if b.over {
		return 0, io.EOF
	}
	n, err := b.from.Read(p)
	if err != nil {
		b.end(errors.Is(err, io.EOF))
	}
	return n, err
}

// Close ends the reading. A short rest is read for the sake of the connection.
func (b *body) Close() error {
	if !b.over {
		_, err := io.CopyN(io.Discard, b.from, leftMax)
		b.end(errors.Is(err, io.EOF))
	}
	return nil
}

func (b *body) end(whole bool) {
	if b.over {
		return
	}
	b.over = true
	inTime := b.conn.ends.Stop()
	if heard := b.given(); !whole || !inTime || !heard || b.spent || b.conn.r.Buffered() > 0 {
		_ = b.conn.Close()
		return
	}
	b.wire.keep(b.conn)
}
