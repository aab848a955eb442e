package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"sync"
	"syscall"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
	"shopfloat/internal/checks"
)

// Bounds of the kill test. After so many kills the bot may live, so that the
// test ends on any computer.
const (
	killAtOnce = 4                     // shops at work at the same time
	killTimes  = 5                     // for every two shops, at most
	killAfter  = 25 * time.Millisecond // at most, from the first poll on
)

// The real program is killed at random moments of a day and started again,
// over and over. Nobody sends anything twice. In the end every answer is in the
// ledger once, exactly as after a day without any trouble.
func TestKilledAtRandomMoments(t *testing.T) {
	t.Parallel()
	binary := built(t)
	shops := checks.Size(t, 6, 24, 400)
	quiet := liveThrough(t, binary, shops, 0, 0)
	seed := rand.Uint64()
	killed := liveThrough(t, binary, shops, shops*killTimes/2, seed)
	if !slices.Equal(quiet, killed) {
		t.Errorf("seed %d: after the kills the shops' records are\n%s\nwant\n%s", seed, killed, quiet)
	}
}

// liveThrough lets so many shops live a day on a bot that is killed so many times,
// and gives what each shop's history says then.
func liveThrough(t *testing.T, binary string, count, kills int, seed uint64) []string {
	t.Helper()
	file := seeded(t, count)
	srv := standIn(t)
	p := &process{t: t, binary: binary, srv: srv, file: file}
	over := make(chan struct{})
	var killer sync.WaitGroup
	p.start()
	killer.Go(func() { p.killAgainAndAgain(rand.New(rand.NewPCG(seed, 1)), kills, over) })
	var shops sync.WaitGroup
	for first := range killAtOnce {
		shops.Go(func() {
			for i := first; i < count; i += killAtOnce {
				person{t, srv, int64(owner1 + i)}.lives(day())
			}
		})
	}
	shops.Wait()
	close(over)
	killer.Wait()
	t.Logf("seed %d: killed %d times, restarted each time", seed, p.kills)
	if kills > 0 && p.kills == 0 {
		t.Error("the bot was never killed")
	}
	if t.Failed() {
		p.stop()
		return nil
	}
	histories := make([]string, count)
	for i := range histories {
		m := person{t, srv, int64(owner1 + i)}.does("history", "Last records")
		histories[i] = regexp.MustCompile(`\d\d:\d\d`).ReplaceAllString(m.Text, "hh:mm")
	}
	p.stop()
	for _, rep := range verified(t, file) {
		if rep.Entries != 10 { // see day: what is confirmed or ticked there
			t.Errorf("machine %d has %d entries, want 10", rep.Machine, rep.Entries)
		}
	}
	return histories
}

// process is the program as a process of its own.
type process struct {
	t      *testing.T
	binary string
	srv    *botapitest.Server
	file   string
	cmd    *exec.Cmd
	kills  int
	polls  int
}

// start starts the program and waits until it polls.
func (p *process) start() {
	p.t.Helper()
	p.srv.View(func(v botapitest.Snapshot) { p.polls = v.Calls("getUpdates") })
	p.cmd = exec.Command(p.binary, "serve", "--rate", "0", "--log-level", "warn")
	p.cmd.Env = append(os.Environ(), "SHOPFLOAT_TOKEN="+p.srv.Token(), "SHOPFLOAT_API_URL="+p.srv.URL(),
		"SHOPFLOAT_DB="+p.file)
	stderr, err := p.cmd.StderrPipe()
	if err != nil {
		p.t.Error(err)
		return
	}
	if err := p.cmd.Start(); err != nil {
		p.t.Error(err)
		return
	}
	go logLines(p.t, stderr)
	p.untilPoll(1)
}

// untilPoll waits until the program has polled so many times in this life.
func (p *process) untilPoll(n int) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.t.Context(), patience)
	defer cancel()
	err := p.srv.WaitFor(ctx, func(v botapitest.Snapshot) bool { return v.Calls("getUpdates") >= p.polls+n })
	if err != nil {
		p.t.Error("the bot does not poll:", err)
	}
}

func logLines(t *testing.T, r io.Reader) {
	for lines := bufio.NewScanner(r); lines.Scan(); {
		t.Log(lines.Text())
	}
}

// killAgainAndAgain kills the program at random moments, until it has done so
// often enough or the day is over. An input that is at hand at three deaths in
// a row is taken for their cause and put aside, rightly, so every third life
// gets past its first poll.
func (p *process) killAgainAndAgain(random *rand.Rand, times int, over <-chan struct{}) {
	for p.kills < times {
		select {
		case <-over:
			return
		case <-time.After(time.Duration(random.Int64N(int64(killAfter)))):
		}
		if p.kills%3 == 2 {
			p.untilPoll(2)
		}
		_ = p.cmd.Process.Kill() // it may have ended by itself, which the next start shows
		_ = p.cmd.Wait()
		p.kills++
		p.start()
	}
}

// stop ends the program as an operator does.
func (p *process) stop() {
	p.t.Helper()
	began := time.Now()
	if err := p.cmd.Process.Signal(syscall.SIGTERM); err != nil {
		p.t.Error(err)
	}
	if err := p.cmd.Wait(); err != nil {
		p.t.Errorf("on SIGTERM: %v", err)
	}
	p.t.Logf("stopped after %v", time.Since(began))
}

// builtOnce is the program in a folder of its own: as it is shipped, or the binary of the tests in its stead.
var builtOnce = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "bot-")
	if err != nil {
		return "", err
	}
	if err := os.Chmod(dir, 0o755); err != nil { // who has no rights runs it, too
		return "", err
	}
	binary := filepath.Join(dir, "bot")
	if os.Getenv(checks.Environment) == "" {
		return binary, errors.Join(os.Setenv(asProgram, "1"), copyOf(binary))
	}
	build := exec.Command("go", "build", "-ldflags=-s -w", "-o", binary, ".")
	if out, err := build.CombinedOutput(); err != nil {
		return "", fmt.Errorf("build: %w\n%s", err, out)
	}
	return binary, nil
})

// copyOf copies the binary that runs.
func copyOf(to string) error {
	own, err := os.Executable()
	if err != nil {
		return err
	}
	data, err := os.ReadFile(own)
	if err != nil {
		return err
	}
	return os.WriteFile(to, data, 0o755)
}

func built(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("builds and starts the program")
	}
	if runtime.GOOS == "windows" {
		t.Skip("no signals")
	}
	binary, err := builtOnce()
	if err != nil {
		t.Fatal(err)
	}
	return binary
}
