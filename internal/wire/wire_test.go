package wire_test

import (
	"bufio"
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"shopfloat/internal/wire"
)

// counting is a server of package net/http that counts the connections made to it.
func counting(t *testing.T, handler http.HandlerFunc) (*httptest.Server, *atomic.Int64) {
	t.Helper()
	var made atomic.Int64
	s := httptest.NewUnstartedServer(handler)
	s.Config.ConnState = func(_ net.Conn, state http.ConnState) {
		if state == http.StateNew {
			made.Add(1)
		}
	}
	return s, &made
}

func echo(w http.ResponseWriter, r *http.Request) {
	body, _ := io.ReadAll(r.Body)
	_, _ = fmt.Fprintf(w, "%s %s %s", r.Method, r.URL.Path, body)
}

func to(t *testing.T, address string, timeout time.Duration, most int) *wire.Wire {
	t.Helper()
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	return wire.New(u, timeout, most, nil)
}

// post calls a path of an address and says how the answer reads.
func post(ctx context.Context, w *wire.Wire, path, body string) (string, error) {
	a, err := w.Post(ctx, &wire.Call{Path: path, Type: "text/plain", Body: []byte(body), Most: 1 << 21})
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%d %s", a.Status, a.Body), nil
}

func says(t *testing.T, w *wire.Wire, path, body, want string) {
	t.Helper()
	if got, err := post(t.Context(), w, path, body); got != want || err != nil {
		t.Errorf("got %q, %v, want %q", got, err, want)
	}
}

// Calls one after another share a connection; those at once have one each, of which only
// so many are kept.
func TestConnectionsAreKept(t *testing.T) {
	s, made := counting(t, echo)
	s.Start()
	defer s.Close()
	w := to(t, s.URL, time.Minute, 2)
	for i := range 20 {
		says(t, w, "/a", fmt.Sprint(i), fmt.Sprintf("200 POST /a %d", i))
	}
	if made.Load() != 1 {
		t.Errorf("20 calls one after another made %d connections", made.Load())
	}
	var all sync.WaitGroup
	for i := range 40 {
		body := strings.Repeat("x", i*700)
		all.Go(func() { says(t, w, "/b", body, "200 POST /b "+body) })
	}
	all.Wait()
	before := made.Load()
	for range 4 {
		says(t, w, "/c", "", "200 POST /c ")
	}
	if made.Load() != before {
		t.Error("none of the connections was kept")
	}
}

// Over TLS as well, and to nobody but whom the certificate names.
func TestTLS(t *testing.T) {
	s, made := counting(t, echo)
	s.StartTLS()
	defer s.Close()
	u, _ := url.Parse(s.URL)
	trusting := s.Client().Transport.(*http.Transport).TLSClientConfig
	w := wire.New(u, time.Minute, 2, trusting)
	for range 3 {
		says(t, w, "/a", "1", "200 POST /a 1")
	}
	if made.Load() != 1 {
		t.Errorf("%d connections", made.Load())
	}
	if _, err := post(t.Context(), wire.New(u, time.Minute, 2, nil), "/", ""); err == nil {
		t.Error("a certificate of nobody known was taken")
	}
	other := *u
	other.Host = strings.Replace(u.Host, "127.0.0.1", "localhost", 1)
	var wrong *tls.CertificateVerificationError
	_, err := post(t.Context(), wire.New(&other, time.Minute, 2, trusting), "/", "")
	if !errors.As(err, &wrong) {
		t.Errorf("another's certificate: %v", err)
	}
}

// A connection that the server has closed meanwhile is not used again.
func TestClosedByTheServer(t *testing.T) {
	s, made := counting(t, echo)
	s.Start()
	defer s.Close()
	w := to(t, s.URL, time.Minute, 2)
	says(t, w, "/a", "", "200 POST /a ")
	s.CloseClientConnections()
	time.Sleep(50 * time.Millisecond)
	says(t, w, "/b", "", "200 POST /b ")
	if made.Load() != 2 {
		t.Errorf("%d connections", made.Load())
	}
}

// What the server says of a connection holds: one to be closed is closed, one with a rest
// that nobody read is not used for the next call.
func TestAnswersOfManyKinds(t *testing.T) {
	s, made := counting(t, func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/close":
			w.Header().Set("Connection", "close")
		case "/hint":
			w.WriteHeader(http.StatusEarlyHints)
		case "/long":
			_, _ = io.WriteString(w, strings.Repeat("x", 1<<20))
			return
		case "/away":
			http.Redirect(w, r, "/elsewhere", http.StatusTemporaryRedirect)
			return
		}
		_, _ = io.WriteString(w, "x")
	})
	s.Start()
	defer s.Close()
	w := to(t, s.URL, time.Minute, 2)
	says(t, w, "/close", "", "200 x")
	says(t, w, "/hint", "", "200 x")
	says(t, w, "/away", "", "307 ")
	if made.Load() != 2 {
		t.Errorf("%d connections, want one more behind the one to be closed", made.Load())
	}
	says(t, w, "/long", "", "200 "+strings.Repeat("x", 1<<20))
	if a, err := w.Post(t.Context(), &wire.Call{Path: "/long", Type: "a/b", Most: 1 << 10}); err == nil {
		t.Errorf("an answer of %d bytes was taken", len(a.Body))
	}
	says(t, w, "/hint", "", "200 x")
	if made.Load() != 3 {
		t.Errorf("%d connections, want a new one behind the rest that was not read", made.Load())
	}
}

// A call ends with its context or its time, before or amid its answer.
func TestCallsEnd(t *testing.T) {
	stuck := make(chan struct{})
	s, _ := counting(t, func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/amid" {
			w.Header().Set("Content-Length", "100")
			_, _ = io.WriteString(w, "x")
			w.(http.Flusher).Flush()
		}
		<-stuck
	})
	s.Start()
	defer s.Close()
	defer close(stuck)
	for _, path := range []string{"/before", "/amid"} {
		ctx, cancel := context.WithCancel(t.Context())
		time.AfterFunc(30*time.Millisecond, cancel)
		if _, err := post(ctx, to(t, s.URL, time.Minute, 2), path, ""); err == nil ||
			path == "/before" && !errors.Is(err, context.Canceled) {
			t.Errorf("%s, given up: %v", path, err)
		}
		ctx, cancel = context.WithTimeout(t.Context(), 30*time.Millisecond)
		if _, err := post(ctx, to(t, s.URL, time.Minute, 2), path, ""); err == nil {
			t.Errorf("%s: an end of the context was passed over", path)
		}
		cancel()
		_, err := post(t.Context(), to(t, s.URL, 30*time.Millisecond, 2), path, "")
		if !errors.Is(err, os.ErrDeadlineExceeded) {
			t.Errorf("%s, out of time: %v", path, err)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := post(ctx, to(t, s.URL, time.Minute, 2), "/", ""); err == nil {
		t.Error("a call that was given up before was made")
	}
}

// What is no HTTP, an end in the middle, hints without end: errors, and nothing hangs.
func TestServersGoneMad(t *testing.T) {
	for name, answer := range map[string]string{
		"nothing": "", "cut": "HTTP/1.1 200 OK\r\nContent-Le",
		"short": "HTTP/1.1 200 OK\r\nContent-Length: 9\r\n\r\nx",
		"noise": "\x16\x03\x01\x02", "hints": strings.Repeat("HTTP/1.1 103 Early Hints\r\n\r\n", 9),
	} {
		address, end := always(t, answer)
		w := to(t, address, time.Minute, 2)
		for range 2 {
			if got, err := post(t.Context(), w, "/", "x"); err == nil {
				t.Errorf("%s: %s", name, got)
			}
		}
		end()
		if _, err := post(t.Context(), w, "/", "x"); err == nil {
			t.Errorf("%s: nobody is there", name)
		}
	}
}

// What cannot be in the first lines of a call is refused, and nothing of it is sent.
func TestForgedLines(t *testing.T) {
	w := to(t, "http://127.0.0.1:1", time.Minute, 2)
	for _, call := range []wire.Call{{Path: "/a b", Type: "a/b"}, {Path: "/a\r\nX: y", Type: "a/b"},
		{Path: "/a", Type: "a/b\nX: y"}, {Path: "/\xff", Type: "a/b"}, {Path: "/\x7f", Type: "a/b"}} {
		if _, err := w.Post(t.Context(), &call); err == nil || !strings.Contains(err.Error(), "no path") {
			t.Errorf("%q: %v", call.Path, err)
		}
	}
}

// Heads of all kinds, also such as no server should send, read as package net/http reads them.
func TestHeadsAsNetHTTP(t *testing.T) {
	const plain = "HTTP/1.1 200 OK\r\nContent-Length: 3\r\n"
	for _, answer := range []string{
		plain + "\r\nabc", plain + "content-type: x\r\n\r\nabc", "HTTP/1.1 200 OK\r\n\r\nabc",
		"HTTP/1.1 200 OK\r\ncontent-length:3 \r\n\r\nabc", "HTTP/1.1 200 \r\nContent-Length: 3\r\n\r\nabc",
		plain + "Content-Length: 3\r\n\r\nabc", plain + "Content-Length: 2\r\n\r\nabc",
		"HTTP/1.1 200 OK\r\nContent-Length: +3\r\n\r\nabc", "HTTP/1.1 200 OK\r\nContent-Length: -3\r\n\r\nabc",
		"HTTP/1.1 200 OK\r\nContent-Length: 3, 3\r\n\r\nabc", "HTTP/1.1 200 OK\r\nContent-Length:\r\n\r\nabc",
		"HTTP/1.1 200 OK\r\nContent-Length: 99999999999999999999\r\n\r\nabc",
		plain + "Transfer-Encoding: chunked\r\n\r\n2\r\nab\r\n0\r\n\r\n",
		"HTTP/1.1 200 OK\r\nTransfer-Encoding: chunked\r\n\r\n2\r\nab\r\n0\r\nA: b\r\n\r\n",
		plain + " folded: x\r\n\r\nabc", plain + "Content-Length : 2\r\n\r\nabc", plain + "odd\r\n\r\nabc",
		plain + ": x\r\n\r\nabc", plain + "X-\xc3\xa9: x\r\n\r\nabc",
		"HTTP/1.0 200 OK\r\nContent-Length: 3\r\n\r\nabc",
		"HTTP/1.1 200 OK\nContent-Length: 3\n\nabc", "HTTP/1.1 204 No Content\r\n\r\n", "HTTP/1.1 20 OK\r\n\r\n",
		"HTTP/1.1 2000 OK\r\nContent-Length: 3\r\n\r\nabc", "HTTP/1.1 200\r\nContent-Length: 3\r\n\r\nabc",
		"HTTP/1.1 429 No\r\nRetry-After: 7\r\nContent-Length: 3\r\n\r\nabc", plain + "Connection: close\r\n\r\nabc",
		plain + "X: " + strings.Repeat("x", 9000) + "\r\n\r\nabc", "HTTP/1.1 200 OK\r\nContent-Length: 0\r\n\r\n",
	} {
		want := "an error"
		if resp, err := http.ReadResponse(bufio.NewReader(strings.NewReader(answer)), nil); err == nil {
			if body, err := io.ReadAll(resp.Body); err == nil {
				want = fmt.Sprint(resp.StatusCode, resp.Header.Get("Retry-After"), string(body))
			}
		}
		address, end := always(t, answer)
		a, err := to(t, address, time.Minute, 2).Post(t.Context(), &wire.Call{Path: "/", Type: "a/b", Most: 99})
		end()
		got := "an error"
		if err == nil {
			got = fmt.Sprint(a.Status, a.Retry, string(a.Body))
		}
		if got != want {
			t.Errorf("%.60q: %s (%v), want %s", answer, got, err, want)
		}
	}
}

// Where the begin of an answer is enough, the rest may be missing, however it is sent.
func TestEnough(t *testing.T) {
	for _, answer := range []string{
		"HTTP/1.1 200 OK\r\nContent-Length: 80\r\n\r\nmade " + strings.Repeat("x", 75),
		"HTTP/1.1 200 OK\r\nContent-Length: 80\r\n\r\nmade " + strings.Repeat("x", 60),
		"HTTP/1.1 200 OK\r\nTransfer-Encoding: chunked\r\n\r\n9\r\nmade xxxx\r\n",
	} {
		address, end := always(t, answer)
		a, err := to(t, address, time.Minute, 2).Post(t.Context(), &wire.Call{Path: "/", Type: "a/b", Most: 99,
			Enough: func(begin []byte) bool { return strings.HasPrefix(string(begin), "made ") }})
		end()
		if err != nil || !strings.HasPrefix(string(a.Body), "made ") {
			t.Errorf("%q: %v", answer, err)
		}
	}
}

// always is a server that gives the same bytes to every call and closes the connection.
func always(t *testing.T, answer string) (address string, end func()) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			if r, err := http.ReadRequest(bufio.NewReader(c)); err == nil {
				_, _ = io.Copy(io.Discard, r.Body)
			}
			_, _ = io.WriteString(c, answer)
			_ = c.Close()
		}
	}()
	return "http://" + l.Addr().String(), func() { _ = l.Close() }
}

// BenchmarkPost makes small calls one after another, by the wire and by package net/http's transport.
func BenchmarkPost(b *testing.B) {
	s := httptest.NewServer(http.HandlerFunc(echo))
	defer s.Close()
	u, _ := url.Parse(s.URL)
	w := wire.New(u, time.Minute, 2, nil)
	for name, post := range map[string]func() error{
		"wire": func() error { _, err := post(b.Context(), w, "/a", `{"chat_id":1}`); return err },
		"nethttp": func() error {
			resp, err := s.Client().Post(s.URL+"/a", "text/plain", strings.NewReader(`{"chat_id":1}`))
			if err == nil {
				_, err = io.ReadAll(resp.Body)
				err = errors.Join(err, resp.Body.Close())
			}
			return err
		},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := post(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
