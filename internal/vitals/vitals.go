// Package vitals tells other programs on the same computer how the bot is: a
// line for a watchdog, and figures in the text format that Prometheus reads. No
// figure tells who somebody is or what a shop holds.
package vitals

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/VictoriaMetrics/metrics"
)

// Reading is how the bot is at a moment.
type Reading struct {
	Inputs  int64 // taken since the start
	Commits int64
	Records int64 // entries of the ledgers
	Parked  int64 // inputs given up

	Unsent  int           // messages that wait
	Oldest  time.Duration // how long the oldest of them waits
	Polled  time.Duration // since the chat server answered last
	OnPaper bool          // nothing can be written
	Copied  time.Duration // since the last copy; less than 0: none is known of
	Copies  bool          // copies are to be made each day
	Faults  int           // things in the file that do not hold together
}

// Bounds of health.
const (
	polledMax = 2 * time.Minute
	unsentMax = 10 * time.Minute
	copiedMax = 49 * time.Hour // two days and an hour: one may fail
)

// Ill says what is wrong; nothing is empty.
func (r Reading) Ill() string {
	var list []string
	if r.OnPaper {
		list = append(list, "nothing can be written")
	}
	if r.Polled > polledMax {
		list = append(list, fmt.Sprintf("the chat server has not answered for %s", r.Polled.Round(time.Second)))
	}
	if r.Unsent > 0 && r.Oldest > unsentMax {
		list = append(list, fmt.Sprintf("a message has waited for %s", r.Oldest.Round(time.Second)))
	}
	if r.Copies && (r.Copied < 0 || r.Copied > copiedMax) {
		list = append(list, "no copy was made for two days")
	}
	if r.Faults > 0 {
		list = append(list, "records do not hold together: bot verify")
	}
	return strings.Join(list, "; ")
}

// Check refuses an address that other computers can reach.
func Check(address string) error {
	host, _, err := net.SplitHostPort(address)
	if ip := net.ParseIP(host); err != nil || host != "localhost" && (ip == nil || !ip.IsLoopback()) {
		return fmt.Errorf("%s: want an address of this computer alone, like 127.0.0.1:9117", address)
	}
	return nil
}

// Serve answers until ctx is done.
func Serve(ctx context.Context, address string, read func() Reading) error {
	if err := Check(address); err != nil {
		return err
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return fmt.Errorf("vitals: %w", err)
	}
	const patience = 5 * time.Second
	srv := &http.Server{Handler: Handler(read), ReadHeaderTimeout: patience, WriteTimeout: patience}
	defer context.AfterFunc(ctx, func() { _ = srv.Close() })()
	if err := srv.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return fmt.Errorf("vitals: %w", err)
	}
	return nil
}

// Handler answers /health and /metrics.
func Handler(read func() Reading) http.Handler {
	set := figures(read)
	mux := http.NewServeMux()
	mux.HandleFunc("GET /health", func(w http.ResponseWriter, _ *http.Request) {
		if ill := read().Ill(); ill != "" {
			http.Error(w, ill, http.StatusServiceUnavailable)
			return
		}
		_, _ = io.WriteString(w, "ok\n")
	})
	mux.HandleFunc("GET /metrics", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/plain; version=0.0.4; charset=utf-8")
		set.WritePrometheus(w)
		metrics.WriteProcessMetrics(w)
	})
	return mux
}

func figures(read func() Reading) *metrics.Set {
	set := metrics.NewSet()
	for name, of := range map[string]func(Reading) float64{
		"shopfloat_inputs_total":              func(r Reading) float64 { return float64(r.Inputs) },
		"shopfloat_commits_total":             func(r Reading) float64 { return float64(r.Commits) },
		"shopfloat_records_total":             func(r Reading) float64 { return float64(r.Records) },
		"shopfloat_parked_total":              func(r Reading) float64 { return float64(r.Parked) },
		"shopfloat_messages_unsent":           func(r Reading) float64 { return float64(r.Unsent) },
		"shopfloat_message_oldest_seconds":    func(r Reading) float64 { return r.Oldest.Seconds() },
		"shopfloat_poll_answered_seconds_ago": func(r Reading) float64 { return r.Polled.Seconds() },
		"shopfloat_on_paper":                  func(r Reading) float64 { return yes(r.OnPaper) },
		"shopfloat_copy_made_seconds_ago":     Reading.copied,
		"shopfloat_healthy":                   func(r Reading) float64 { return yes(r.Ill() == "") },
	} {
		set.NewGauge(name, func() float64 { return of(read()) })
	}
	return set
}

// copied is no number where no copy is known of: any number would look like a time.
func (r Reading) copied() float64 {
	if r.Copied < 0 {
		return math.NaN()
	}
	return r.Copied.Seconds()
}

func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
