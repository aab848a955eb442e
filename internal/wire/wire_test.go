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

func post(ctx context.Context, w http.RoundTripper, address, body string) (string, error) {
	req, err := http.NewRequestWithContext(ctx, http.MethodPost, address, strings.NewReader(body))
	if err != nil {
		return "", err
	}
	resp, err := w.RoundTrip(req)
	if err != nil {
		return "", err
	}
	said, err := io.ReadAll(resp.Body)
	return fmt.Sprintf("%d %s", resp.StatusCode, said), errors.Join(err, resp.Body.Close())
}

func says(t *testing.T, w http.RoundTripper, address, body, want string) {
	t.Helper()
	if got, err := post(t.Context(), w, address, body); got != want || err != nil {
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
		says(t, w, s.URL+"/a", fmt.Sprint(i), fmt.Sprintf("200 POST /a %d", i))
	}
	if made.Load() != 1 {
		t.Errorf("20 calls one after another made %d connections", made.Load())
	}
	var all sync.WaitGroup
	for i := range 40 {
		body := strings.Repeat("x", i*700)
		all.Go(func() { says(t, w, s.URL+"/b", body, "200 POST /b "+body) })
	}
	all.Wait()
	before := made.Load()
	for range 4 {
		says(t, w, s.URL+"/c", "", "200 POST /c ")
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
		says(t, w, s.URL+"/a", "1", "200 POST /a 1")
	}
	if made.Load() != 1 {
		t.Errorf("%d connections", made.Load())
	}
	if _, err := post(t.Context(), wire.New(u, time.Minute, 2, nil), s.URL, ""); err == nil {
		t.Error("a certificate of nobody known was taken")
	}
	other := *u
	other.Host = strings.Replace(u.Host, "127.0.0.1", "localhost", 1)
	var wrong *tls.CertificateVerificationError
	_, err := post(t.Context(), wire.New(&other, time.Minute, 2, trusting), other.String(), "")
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
	says(t, w, s.URL+"/a", "", "200 POST /a ")
	s.CloseClientConnections()
	time.Sleep(50 * time.Millisecond)
	says(t, w, s.URL+"/b", "", "200 POST /b ")
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
	says(t, w, s.URL+"/close", "", "200 x")
	says(t, w, s.URL+"/hint", "", "200 x")
	says(t, w, s.URL+"/away", "", "307 ")
	if made.Load() != 2 {
		t.Errorf("%d connections, want one more behind the one to be closed", made.Load())
	}
	req, _ := http.NewRequestWithContext(t.Context(), http.MethodPost, s.URL+"/long", nil)
	resp, err := w.RoundTrip(req)
	if err != nil || resp.Body.Close() != nil {
		t.Fatal(err)
	}
	if n, err := resp.Body.Read(make([]byte, 1)); n != 0 || err != io.EOF {
		t.Errorf("a body that is closed: %d, %v", n, err)
	}
	says(t, w, s.URL+"/hint", "", "200 x")
	if made.Load() != 3 {
		t.Errorf("%d connections, want a new one behind the rest nobody read", made.Load())
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
		if _, err := post(ctx, to(t, s.URL, time.Minute, 2), s.URL+path, ""); err == nil ||
			path == "/before" && !errors.Is(err, context.Canceled) {
			t.Errorf("%s, given up: %v", path, err)
		}
		ctx, cancel = context.WithTimeout(t.Context(), 30*time.Millisecond)
		if _, err := post(ctx, to(t, s.URL, time.Minute, 2), s.URL+path, ""); err == nil {
			t.Errorf("%s: an end of the context was passed over", path)
		}
		cancel()
		_, err := post(t.Context(), to(t, s.URL, 30*time.Millisecond, 2), s.URL+path, "")
		if !errors.Is(err, os.ErrDeadlineExceeded) {
			t.Errorf("%s, out of time: %v", path, err)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := post(ctx, to(t, s.URL, time.Minute, 2), s.URL, ""); err == nil {
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
				_, _ = http.ReadRequest(bufio.NewReader(c))
				_, _ = io.WriteString(c, answer)
				_ = c.Close()
			}
		}()
		address := "http://" + l.Addr().String()
		w := to(t, address, time.Minute, 2)
		for range 2 {
			if got, err := post(t.Context(), w, address, "x"); err == nil {
				t.Errorf("%s: %s", name, got)
			}
		}
		_ = l.Close()
		if _, err := post(t.Context(), w, address, "x"); err == nil {
			t.Errorf("%s: nobody is there", name)
		}
	}
}

// The token is in the path: no call goes to another server.
func TestElsewhere(t *testing.T) {
	w := to(t, "http://127.0.0.1:1", time.Minute, 2)
	for _, address := range []string{"http://127.0.0.1:2/a", "https://127.0.0.1:1/a"} {
		_, err := post(t.Context(), w, address, "x")
		if err == nil || !strings.Contains(err.Error(), "another server") {
			t.Errorf("%s: %v", address, err)
		}
	}
}

// BenchmarkPost makes small calls one after another, by the wire and by package net/http's transport.
func BenchmarkPost(b *testing.B) {
	s := httptest.NewServer(http.HandlerFunc(echo))
	defer s.Close()
	u, _ := url.Parse(s.URL)
	for name, w := range map[string]http.RoundTripper{
		"wire": wire.New(u, time.Minute, 2, nil), "nethttp": &http.Transport{},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := post(b.Context(), w, s.URL+"/a", `{"chat_id":1}`); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
