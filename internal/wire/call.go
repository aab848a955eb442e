package wire

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strconv"
)

// Call is what is sent, and how much of the answer is wanted.
type Call struct {
	Path string // with what is to be escaped in it escaped
	Type string // of the body
	Body []byte
	Most int    // bytes of an answer; a longer one is an error
	Room []byte // what [Read] may put the answer into, if it fits

	// Enough tells that the begin of an answer says all that is wanted, so that the rest is not
	// kept and may be missing. nil: nothing does.
	Enough func(begin []byte) bool
}

// enough tells that nothing more of an answer is wanted.
func (c *Call) enough(begin []byte) bool { return c.Enough != nil && c.Enough(begin) }

// Answer is what the server says.
type Answer struct {
	Status int
	Retry  string // its header Retry-After
	Body   []byte // all of it, or the begin that was enough
}

// BeginMax bounds the begin of an answer that may be enough.
const BeginMax = 64

// informMax is how many answers may only say that another will come (1xx, RFC 9110, 15.2).
const informMax = 5

// What is wrong with a call.
var (
	errPath = errors.New("wire: no path and type of a call look like this")
	errHint = errors.New("wire: the server says again and again that an answer will come")
)

// write sends a call (RFC 9112, 3 and 6).
func (c *conn) write(w *Wire, call *Call) error {
	for _, part := range [...]string{
		"POST ", w.path, call.Path, " HTTP/1.1\r\nHost: ", w.host, "\r\nUser-Agent: shopfloat\r\nContent-Type: ",
		call.Type, "\r\nContent-Length: ", strconv.Itoa(len(call.Body)), "\r\n\r\n",
	} {
		_, _ = c.w.WriteString(part) // an error stays until Flush tells
	}
	_, _ = c.w.Write(call.Body)
	return c.w.Flush()
}

// answer reads what the server says; keep tells that the connection is of further use.
func (c *conn) answer(call *Call) (a *Answer, keep bool, err error) {
	for range informMax {
		if length, ok := c.plainHead(); ok {
			return c.plainBody(call, length)
		}
		resp, err := http.ReadResponse(c.r, nil)
		if err != nil {
			return nil, false, err
		}
		if resp.StatusCode >= http.StatusOK {
			a, err := Read(resp, call)
			return a, err == nil && !resp.Close, err
		}
	}
	return nil, false, errHint
}

// plainHead steps over the head of an answer of the plainest kind: "200", all of its head here at
// once, its length told and no other way of sending it. Nothing is read of any other.
func (c *conn) plainHead() (length int, ok bool) {
	if _, err := c.r.Peek(1); err != nil {
		return 0, false
	}
	here, _ := c.r.Peek(c.r.Buffered())
	head, _, whole := bytes.Cut(here, []byte("\r\n\r\n"))
	first, rest, more := bytes.Cut(head, []byte("\r\n"))
	if !whole || !more || !bytes.HasPrefix(first, []byte("HTTP/1.1 200 ")) {
		return 0, false
	}
	for told := false; ; {
		line, next, more := bytes.Cut(rest, []byte("\r\n"))
		name, value, ok := bytes.Cut(line, []byte(":"))
		switch {
		case !ok || !plainName(name):
			return 0, false
		case bytes.EqualFold(name, []byte("Content-Length")):
			n, err := strconv.ParseUint(string(bytes.Trim(value, " \t")), 10, 31)
			if told || err != nil {
				return 0, false
			}
			length, told = int(n), true
		case bytes.EqualFold(name, []byte("Transfer-Encoding")), bytes.EqualFold(name, []byte("Connection")):
			return 0, false
		}
		if rest = next; !more {
			_, _ = c.r.Discard(len(head) + len("\r\n\r\n")) // it is here
			return length, told
		}
	}
}

// plainName tells that the name of a header has nothing but letters and hyphens in it.
func plainName(name []byte) bool {
	for _, b := range name {
		if lower := b | 0x20; b != '-' && (lower < 'a' || lower > 'z') {
			return false
		}
	}
	return len(name) > 0
}

// plainBody reads an answer of so many bytes.
func (c *conn) plainBody(call *Call, length int) (a *Answer, keep bool, err error) {
	a = &Answer{Status: http.StatusOK}
	if begin, err := c.r.Peek(min(length, BeginMax)); err == nil && call.enough(begin) {
		a.Body = bytes.Clone(begin)
		_, err = c.r.Discard(length)
		return a, err == nil, nil
	}
	if length > call.Most {
		return nil, false, tooLong(call)
	}
	a.Body = make([]byte, length)
	_, err = io.ReadFull(c.r, a.Body)
	return a, err == nil, err
}

func tooLong(call *Call) error { return fmt.Errorf("the answer has more than %d bytes", call.Most) }

// Read reads an answer that package net/http has begun to read.
func Read(resp *http.Response, call *Call) (*Answer, error) {
	body := bytes.NewBuffer(call.Room[:0])
	body.Grow(int(max(min(resp.ContentLength, int64(call.Most)), 0)) + bytes.MinRead)
	_, err := body.ReadFrom(io.LimitReader(resp.Body, int64(call.Most)+1))
	err = errors.Join(err, resp.Body.Close())
	if body.Len() > call.Most {
		err = tooLong(call)
	}
	a := &Answer{Status: resp.StatusCode, Retry: resp.Header.Get("Retry-After"), Body: body.Bytes()}
	if begin := a.Body[:min(body.Len(), BeginMax)]; err != nil && call.enough(begin) {
		a.Body, err = begin, nil
	}
	return a, err
}
