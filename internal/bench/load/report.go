//go:build linux

package main

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// report is the figures of a run.
type report struct {
	updates  int
	took     time.Duration
	p50, p99 time.Duration
	cpu      time.Duration
	self     time.Duration // CPU of the stand-in and the crowd
	others   float64       // share of our cores that others used
	fsyncs   int
	traced   bool
	start    time.Duration // to the first poll
	startCPU time.Duration
	idleKB   int
	peakKB   int
	probe    [2]int // appends a second, before and after
	errors   map[string]int

	taps, unanswered int
	longest          time.Duration // of a tap for its answer
}

func (r *report) count(c *crowd) {
	c.mu.Lock()
	defer c.mu.Unlock()
	slices.Sort(c.waits)
	r.updates = len(c.waits)
	r.p50, r.p99 = c.waits[len(c.waits)/2], c.waits[len(c.waits)*99/100]
}

func (r *report) String() string {
	var b strings.Builder
	line := func(name, format string, args ...any) {
		fmt.Fprintf(&b, "%-22s "+format+"\n", append([]any{name}, args...)...)
	}
	line("updates", "%d in %.2f s", r.updates, r.took.Seconds())
	line("updates/s", "%.0f", float64(r.updates)/r.took.Seconds())
	line("answer p50 / p99", "%.1f / %.1f ms", ms(r.p50), ms(r.p99))
	line("bot CPU", "%.0f us/update", float64(r.cpu.Microseconds())/float64(r.updates))
	line("stand-in CPU", "%.0f us/update", float64(r.self.Microseconds())/float64(r.updates))
	if r.traced {
		line("fsyncs", "%d, %.3f an update", r.fsyncs, float64(r.fsyncs)/float64(r.updates))
	}
	line("taps", "%d answered, %d never, the longest wait %.0f ms", r.taps, r.unanswered, ms(r.longest))
	line("memory", "%.1f MB idle, %.1f MB at most", float64(r.idleKB)/1024, float64(r.peakKB)/1024)
	line("start to first poll", "%.0f ms, %.0f ms of CPU", ms(r.start), ms(r.startCPU))
	line("fsync probe", "%d/s before, %d/s after", r.probe[0], r.probe[1])
	line("others on the core", "%.2f", r.others)
	for text, n := range r.errors {
		line("refused calls", "%d x %s", n, text)
	}
	return b.String()
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
