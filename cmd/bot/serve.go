package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"runtime/debug"
	"slices"
	"sync"
	"time"

	"github.com/robfig/cron/v3"

	"shopfloat/internal/chart"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/proving"
	"shopfloat/internal/recall"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/telegram"
	"shopfloat/internal/texts"
	"shopfloat/internal/trust"
	"shopfloat/internal/vitals"
	"shopfloat/internal/workbook"
)

// stopTime is how long what is under way may take when the program is to end.
const stopTime = 5 * time.Second

// serveCmd serves Telegram chats.
type serveCmd struct {
	Token  string `arg:"required,env:SHOPFLOAT_TOKEN" help:"The bot's token."`
	APIURL string `arg:"--api-url,env:SHOPFLOAT_API_URL" placeholder:"URL" default:"https://api.telegram.org" help:"Server."`
	DB     string `arg:"env:SHOPFLOAT_DB" placeholder:"FILE" default:"shopfloat.db" help:"File, on a local disk."`
	Rate   int    `placeholder:"N" default:"30" help:"Most messages a second in all; 0 is no bound, for load runs."`
	AsIs   bool   `arg:"--as-is" help:"Take the file though it lacks something, or is another one."`
	Guides string `arg:"env:SHOPFLOAT_GUIDES" placeholder:"DIR" help:"Folder of your own NAME.guide files."`
	copies
	Vitals   string `arg:"env:SHOPFLOAT_VITALS" placeholder:"ADDR" help:"Health and metrics here, like 127.0.0.1:9117."`
	LogForm  string `arg:"--log-format" placeholder:"FORM" default:"text" help:"Log lines as text or json."`
	LogLevel string `arg:"--log-level" placeholder:"LEVEL" default:"info" help:"Log lines from this level on: debug,info,warn,error."`
}

// boundMemory lets the heap grow more between collections while it is small,
// and collects harder near 42 MiB, so that two thousand busy shops stay below
// 70 MB in all. Everything kept at hand has a bound of its own, far below that.
// GOGC and GOMEMLIMIT win.
func boundMemory() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(300)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(42 << 20)
	}
}

// Run serves until the program is told to end.
func (c *serveCmd) Run(e *env) error {
	if c.Rate < 0 {
		return misuse(fmt.Errorf("--rate %d: want 0 or more", c.Rate))
	}
	if !slices.Contains([]string{"debug", "info", "warn", "error"}, c.LogLevel) {
		return misuse(fmt.Errorf("--log-level %s: want debug, info, warn or error", c.LogLevel))
	}
	if c.LogForm != "text" && c.LogForm != "json" {
		return misuse(fmt.Errorf("--log-format %s: want text or json", c.LogForm))
	}
	if c.Vitals != "" {
		if err := vitals.Check(c.Vitals); err != nil {
			return misuse(fmt.Errorf("--vitals %w", err))
		}
	}
	if e.bound != nil {
		e.bound()
	}
	log := c.logger(e.stderr)
	help, err := guiding(e, c.Guides)
	if err != nil {
		return err
	}
	if err := telegram.Check(c.Token, c.APIURL); err != nil {
		return misuse(err) // before anything is made
	}
	open := store.Open
	if c.AsIs {
		open = store.OpenAsIs
	}
	db, err := open(e.ctx, c.DB, time.Now())
	if err != nil {
		return err
	}
	code, err := claimEmpty(db, time.Now(), rand.Reader)
	if err != nil {
		return errors.Join(err, db.Close())
	}
	s, err := c.service(db, log, func(link func(string) string) {
		if code != "" {
			_, _ = fmt.Fprintf(e.stdout, "Or open this link: %s\n", link(code))
		}
	}, help)
	if err != nil {
		return errors.Join(err, db.Close())
	}
	if code != "" {
		_, _ = fmt.Fprintf(e.stdout, "No shop is set up yet. Set-up code, good for one day: %s\n"+
			"Whoever sends it to the bot becomes the owner: /start %s\n", code, code)
	}
	err = s.run(e.ctx)
	var doubt *store.Doubt
	if errors.As(err, &doubt) {
		return s.doubted(db, doubt)
	}
	if !errors.Is(err, errSlowStop) {
		return errors.Join(err, db.Close())
	}
	return errSlowStop // what still runs has the file; all that is committed is safe
}

// logger writes lines for whoever runs the program. No line holds the token,
// whatever an error may quote.
func (c *serveCmd) logger(to io.Writer) *slog.Logger {
	var level slog.Level
	_ = level.UnmarshalText([]byte(c.LogLevel)) // Run lets only levels through
	w := &masked{to: to, secret: []byte(c.Token)}
	options := &slog.HandlerOptions{Level: level}
	if c.LogForm == "json" {
		return slog.New(slog.NewJSONHandler(w, options))
	}
	return slog.New(slog.NewTextHandler(w, options))
}

// service connects the parts.
func (c *serveCmd) service(
	db *store.DB, log *slog.Logger, reached func(link func(string) string), help engine.Guiding,
) (*service, error) {
	catalogue, err := texts.Load()
	if err != nil {
		return nil, err
	}
	engine := dialogs.New(catalogue).Guide(help)
	engine.Book = workbook.Write
	s := &service{
		log: log, pace: desk.Pace{Rate: c.Rate}, mark: aliveMark(c.DB), photos: store.Pictures(c.DB),
		file: c.DB, copies: c.copies, vitals: c.Vitals, words: catalogue, reader: db.Reader(), opened: db.Opened(),
	}
	online := make(chan struct{})
	s.night = &proving.Night{Reader: s.reader, Now: time.Now, Log: log, Tell: s.unproved, Online: online}
	s.desk = desk.New(desk.Options{
		// The question search learns with the first question: ahead of it that
		// would cost every start 10 MB and a tenth of a second.
		Store: db, Step: recall.Around(catalogue, engine.Step), Now: time.Now, Random: rand.Reader, Log: log,
		Copied: s.copied, Proved: s.night.Proved, Paper: paperWords(catalogue), Parked: parkedWords(catalogue),
		Link:    func(code string) string { return s.bot.Link(code) },
		Current: func() bool { return s.bot.Current() },
		Event:   trust.Teller{Texts: catalogue}.Event,
	})
	voice := catalogue.In("en", "", "")
	s.bot, err = telegram.New(telegram.Options{
		Token: c.Token, URL: c.APIURL, Take: s.desk.Take, Redraw: s.redraw, Now: time.Now,
		Seen: s.mark.last(), Caught: s.caught, Reached: func() { close(online); reached(s.bot.Link) },
		PrivateOnly: voice.Say("private-only"), Commands: menu(engine, voice), Log: log, Draw: chart.DrawnFile,
	})
	return s, err
}

// menu is what a chat offers behind its menu sign until its own is set: what
// staff may do. What is beyond it is set once the chat belongs to somebody.
func menu(engine *engine.Engine, v *texts.Voice) (list []telegram.Command) {
	for _, item := range engine.Menu(v, shop.Staff) {
		list = append(list, telegram.Command{Name: item.Name, Text: item.Text})
	}
	return list
}

// service is the bot at work.
type service struct {
	desk *desk.Desk
	bot  *telegram.Bot
	pace desk.Pace
	mark aliveMark
	log  *slog.Logger

	photos string // folder
	file   string
	copies copies
	vitals string // address; empty: nowhere
	words  *texts.Catalogue
	reader *store.Reader
	night  *proving.Night
	opened store.Opened // what the file was found to be
}

var errSlowStop = errors.New("stopped while something was still under way; nothing that was recorded is lost")

// run does everything at once until ctx is done or one part fails.
func (s *service) run(ctx context.Context) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	var parts sync.WaitGroup
	for _, part := range []func(context.Context) error{
		s.bot.Run,
		s.deliver,
		s.heartbeat,
		s.fetchFiles,
		s.welcome,
		s.backUp,
		s.night.Run,
		s.tellVitals,
	} {
		parts.Go(func() {
			if err := part(ctx); err != nil {
				stop(err)
			}
		})
	}
	done := make(chan struct{})
	go func() {
		defer close(done)
		parts.Wait()
	}()
	<-ctx.Done()
	select {
	case <-done:
	case <-time.After(stopTime):
		return errSlowStop
	}
	if err := context.Cause(ctx); !errors.Is(err, context.Canceled) {
		return err
	}
	return nil
}

// deliver sends the outbox. Whoever is told first that the token is refused,
// sender or poller, ends the program with the same sentence.
func (s *service) deliver(ctx context.Context) error {
	err := s.desk.Run(ctx, s.bot, s.pace)
	if errors.Is(err, desk.ErrStop) {
		return telegram.ErrToken
	}
	return err
}

// heartbeat looks every minute what has come due. When that is lies in the
// file; the schedule here knows only that a minute has passed.
func (s *service) heartbeat(ctx context.Context) error {
	beats := cron.New(cron.WithLocation(time.UTC), cron.WithChain(cron.SkipIfStillRunning(cron.DiscardLogger)))
	if _, err := beats.AddFunc("* * * * *", func() { s.beat(ctx) }); err != nil {
		return fmt.Errorf("heartbeat: %w", err)
	}
	beats.Start()
	<-ctx.Done()
	<-beats.Stop().Done()
	return nil
}

// beat leaves reminders for later while messages may wait to be fetched: what
// they would remind of may have been done long ago.
func (s *service) beat(ctx context.Context) {
	if !s.bot.Current() {
		return
	}
	if err := s.desk.Tick(ctx); err != nil && ctx.Err() == nil {
		s.log.Error("reminders", "why", err)
	}
}

// caught remembers when everything sent had been taken.
func (s *service) caught(at time.Time) {
	if err := s.mark.set(at); err != nil {
		s.log.Warn("open cards may be drawn twice after the next start", "why", err)
	}
}

// redraw shows the open cards again: taps on them may have been lost.
func (s *service) redraw(ctx context.Context, since time.Time) error {
	chats, err := s.desk.Silent(ctx, since)
	if err != nil {
		return err
	}
	now := time.Now()
	var raws []desk.Raw
	for _, where := range chats {
		if telegram.Owns(where) {
			raws = append(raws, desk.Raw{
				Source: "redraw", Key: fmt.Sprintf("%s %d", where, now.UnixNano()),
				Input: chat.Input{Chat: where, Kind: chat.Redraw, At: now},
			})
		}
	}
	_, err = s.desk.Take(ctx, raws)
	return err
}

// masked keeps a secret out of what is written. Each line must come in one
// piece, as package slog writes it.
type masked struct {
	to     io.Writer
	secret []byte
}

func (m *masked) Write(line []byte) (int, error) {
	clean := line
	if len(m.secret) > 0 {
		clean = bytes.ReplaceAll(line, m.secret, []byte("***"))
	}
	if _, err := m.to.Write(clean); err != nil {
		return 0, err
	}
	return len(line), nil
}
