// Package proving looks by itself whether the file still holds what was written
// into it, at the start and each night, and words what was found.
package proving

import (
	"context"
	"log/slog"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// How often is looked, and how often at all of it.
const (
	hour  = 3 // of the computer's clock, when shops are closed
	whole = 7 * 24 * time.Hour
	every = 10 * time.Minute // whether it is time
)

// Night proves a file beside the bot that writes it.
type Night struct {
	Reader *store.Reader
	Now    func() time.Time
	Log    *slog.Logger

	// Tell is called when something is found that was not found before.
	Tell func(context.Context, store.MachineReport) error

	// Online is closed once the chat server was reached. The first look waits for it, for
	// a while: it takes the processor, and people wait for the first poll. nil: nothing does.
	Online <-chan struct{}

	mu    sync.Mutex // guards what follows
	at    time.Time  // when it was looked last; zero: not yet
	last  []found
	whole time.Time // when all of it was looked at
	told  map[shop.MachineID]string
}

// found is what is remembered of a machine's report.
type found struct {
	shop            shop.ID
	entries, faults int
}

// offlineFor is how long the first look waits for the chat server.
const offlineFor = 30 * time.Second

// Run looks at the start and then by night, until ctx is done.
func (n *Night) Run(ctx context.Context) error {
	if n.Online != nil {
		select {
		case <-n.Online:
		case <-time.After(offlineFor):
		case <-ctx.Done():
			return nil
		}
	}
	for tick := time.NewTicker(every); ; {
		if now := n.Now(); Due(n.at, now) {
			n.Look(ctx, now)
		}
		select {
		case <-ctx.Done():
			tick.Stop()
			return nil
		case <-tick.C:
		}
	}
}

// Due reports whether it is time to look again: never looked, or a night has begun
// since.
func Due(last, now time.Time) bool {
	if last.IsZero() {
		return true
	}
	night := time.Date(now.Year(), now.Month(), now.Day(), hour, 0, 0, 0, now.Location())
	if now.Before(night) {
		night = night.AddDate(0, 0, -1)
	}
	return last.Before(night)
}

// Look proves the records since the last time, once a week and at the start all of
// them, and tells what was not told before.
func (n *Night) Look(ctx context.Context, now time.Time) {
	since := time.Time{}
	if now.Sub(n.whole) < whole {
		since = n.at.Add(-time.Hour) // a clock that went back a little leaves no gap
	}
	reports, err := n.Reader.VerifySince(ctx, since)
	if ctx.Err() != nil {
		return
	}
	if err != nil {
		why := "the file is damaged: it cannot be read: " + err.Error()
		reports = []store.MachineReport{{Faults: []string{why}}}
	}
	n.mu.Lock()
	n.at, n.last = now, make([]found, 0, len(reports))
	for _, r := range reports {
		n.last = append(n.last, found{r.Shop, r.Entries, len(r.Faults)})
	}
	if since.IsZero() {
		n.whole = now
	}
	n.mu.Unlock()
	entries := 0
	for _, r := range reports {
		entries += r.Entries
		n.tell(ctx, r)
	}
	clear(reports)
	debug.FreeOSMemory() // all of the file went through it, and nothing of it is needed until the next night
	n.Log.Info("records were proved", "machines", len(reports), "entries", entries, "since", since)
}

// tell tells of a machine's faults once, until they are others.
func (n *Night) tell(ctx context.Context, r store.MachineReport) {
	what := strings.Join(r.Faults, "; ")
	if n.told[r.Machine] == what {
		return
	}
	if n.told == nil {
		n.told = map[shop.MachineID]string{}
	}
	n.told[r.Machine] = what
	if what == "" {
		return
	}
	n.Log.Error("records do not hold together", "machine", int64(r.Machine), "why", what)
	if err := n.Tell(ctx, r); err != nil && ctx.Err() == nil {
		n.told[r.Machine] = "" // the next time
		n.Log.Error("owners could not be told", "why", err)
	}
}

// Proved tells a shop what was found last; nil: it was not looked yet.
func (n *Night) Proved(id shop.ID) *chat.Proved {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.at.IsZero() {
		return nil
	}
	p := &chat.Proved{At: n.at}
	for _, r := range n.last {
		if r.shop == id || r.shop == 0 {
			p.Entries, p.Faults = p.Entries+r.entries, p.Faults+r.faults
		}
	}
	return p
}

// Faults counts all that was found last.
func (n *Night) Faults() (all int) {
	n.mu.Lock()
	defer n.mu.Unlock()
	for _, r := range n.last {
		all += r.faults
	}
	return all
}
