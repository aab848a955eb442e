//go:build linux

package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"syscall"
	"time"

	"shopfloat/internal/botapitest"
)

// bot is the program measured.
type bot struct {
	cmd       *exec.Cmd
	pid       int           // of the bot, also when a tracer stands before it
	firstPoll time.Duration // from its start
	startCPU  time.Duration // spent until then
	trace     string        // file with a line for each fsync; "" for none
}

// startBot starts the program and waits for its first poll.
func startBot(ctx context.Context, s *settings, srv *botapitest.Server, file string) (*bot, error) {
	b := &bot{}
	args := s.bot
	if s.traced {
		b.trace = file + ".trace"
		strace := []string{"strace", "-f", "--seccomp-bpf", "-qq", "-e", "trace=fsync,fdatasync", "-o", b.trace}
		args = append(strace, args...)
	}
	b.cmd = exec.Command(args[0], args[1:]...)
	b.cmd.Env = append(os.Environ(),
		"SHOPFLOAT_TOKEN="+srv.Token(), "SHOPFLOAT_API_URL="+srv.URL(), "SHOPFLOAT_DB="+file)
	b.cmd.Stderr = os.Stderr
	began := time.Now()
	if err := b.cmd.Start(); err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, 30*time.Second)
	defer cancel()
	if err := srv.WaitFor(ctx, func(v botapitest.Snapshot) bool { return v.Polling() }); err != nil {
		b.kill()
		return nil, fmt.Errorf("the bot does not poll: %w", err)
	}
	b.firstPoll = time.Since(began)
	b.pid = b.cmd.Process.Pid
	if s.traced {
		data, err := os.ReadFile(fmt.Sprintf("/proc/%d/task/%[1]d/children", b.pid))
		if err != nil {
			return nil, err
		}
		if b.pid, err = strconv.Atoi(strings.TrimSpace(string(data))); err != nil {
			return nil, fmt.Errorf("the bot behind strace: %w", err)
		}
	}
	b.startCPU = processTime(b.pid)
	return b, nil
}

// stop ends the program as an operator does.
func (b *bot) stop() error {
	if err := syscall.Kill(b.pid, syscall.SIGTERM); err != nil {
		return err
	}
	return b.cmd.Wait()
}

// kill is for the way out after a failure; after stop it does nothing.
func (b *bot) kill() {
	if b.cmd.ProcessState == nil {
		_ = b.cmd.Process.Kill()
		_ = b.cmd.Wait()
	}
}

// fsyncs counts them so far; 0 without a trace.
func (b *bot) fsyncs() int {
	if b.trace == "" {
		return 0
	}
	data, err := os.ReadFile(b.trace)
	if err != nil {
		return 0
	}
	return bytes.Count(data, []byte("sync(")) // a call cut in two is told with "resumed>" and no bracket
}

// memory reads a line of the program's status, in kB.
func (b *bot) memory(field string) int {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", b.pid))
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(data)) {
		if rest, ok := strings.CutPrefix(line, field+":"); ok {
			kb, _ := strconv.Atoi(strings.Fields(rest)[0])
			return kb
		}
	}
	return 0
}
