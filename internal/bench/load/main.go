//go:build linux

// Command load drives shops through an opening against the stand-in for the
// chat platform's server and prints how a bot kept up.
//
//	load [flags] BOT ARGS...
//
// BOT gets the token, the server's address and its file by SHOPFLOAT_TOKEN,
// SHOPFLOAT_API_URL and SHOPFLOAT_DB. So many shops open at once, each person
// answering as soon as the bot has; when one is done the next shop begins.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"time"

	"shopfloat/internal/botapitest"
)

// settings of a run.
type settings struct {
	atOnce, shops int
	seeder, dir   string
	traced        bool
	idle, think   time.Duration
	bot           []string
}

func main() {
	var s settings
	flag.IntVar(&s.atOnce, "n", 200, "shops that open at once")
	flag.IntVar(&s.shops, "shops", 2000, "shops in all, each of which opens once")
	flag.StringVar(&s.seeder, "seed", "", "program whose command seed writes the shops (required)")
	flag.StringVar(&s.dir, "dir", "", "directory for the file, on the disk to be measured")
	flag.BoolVar(&s.traced, "fsyncs", false, "count fsyncs with strace, which slows the bot down")
	flag.DurationVar(&s.idle, "idle", 2*time.Second, "how long to let the bot idle before its memory is read")
	flag.DurationVar(&s.think, "think", 0, "how long people wait before each answer")
	flag.Parse()
	if s.bot = flag.Args(); len(s.bot) == 0 || s.seeder == "" || s.atOnce < 1 || s.shops < s.atOnce {
		flag.Usage()
		os.Exit(2)
	}
	if err := s.run(context.Background()); err != nil {
		fmt.Fprintln(os.Stderr, "load:", err)
		os.Exit(1)
	}
}

func (s *settings) run(ctx context.Context) error {
	dir, err := os.MkdirTemp(s.dir, "load-")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	file := filepath.Join(dir, "shop.db")
	seed := exec.CommandContext(ctx, s.seeder, "seed", "--shops", strconv.Itoa(s.shops), "--db", file)
	if out, err := seed.CombinedOutput(); err != nil {
		return fmt.Errorf("seed: %w: %s", err, out)
	}
	before, err := probe(dir)
	if err != nil {
		return err
	}
	crowd := newCrowd(s.shops, s.think)
	srv := botapitest.New(botapitest.Options{Clock: time.Now, KeepMessages: 4, OnEffect: crowd.effect})
	if err := srv.Start(); err != nil {
		return err
	}
	defer srv.Close()
	crowd.server = srv
	b, err := startBot(ctx, s, srv, file)
	if err != nil {
		return err
	}
	defer b.kill()
	time.Sleep(s.idle)
	r, err := s.drive(ctx, crowd, b)
	if err != nil {
		return err
	}
	if err := b.stop(); err != nil {
		return fmt.Errorf("the bot did not stop well: %w", err)
	}
	after, err := probe(dir)
	if err != nil {
		return err
	}
	r.probe = [2]int{before, after}
	said := srv.Report()
	r.errors, r.taps, r.unanswered = said.Errors, said.Calls["answerCallbackQuery"], len(said.Unanswered)
	r.longest = said.LongestWait
	fmt.Print(r)
	if r.unanswered > 0 {
		return fmt.Errorf("%d taps were never answered: their buttons keep showing that they wait", r.unanswered)
	}
	return nil
}

var errStalled = errors.New("a minute went by without an answer")

// drive lets the crowd open its shops and takes the figures.
func (s *settings) drive(ctx context.Context, c *crowd, b *bot) (*report, error) {
	r := &report{start: b.firstPoll, startCPU: b.startCPU, idleKB: b.memory("VmRSS")}
	meter := newMeter(b)
	began := time.Now()
	c.begin(s.atOnce)
	if err := c.wait(ctx); err != nil {
		return nil, err
	}
	r.took = time.Since(began)
	meter.read(r)
	r.peakKB = b.memory("VmHWM")
	r.count(c)
	return r, nil
}
