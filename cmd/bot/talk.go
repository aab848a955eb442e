package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"time"

	"shopfloat/internal/beside"
	"shopfloat/internal/chart"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/intake"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/terminal"
	"shopfloat/internal/texts"
	"shopfloat/internal/trust"
)

// chatFile is a file that a conversation works on.
type chatFile struct {
	path   string
	latest time.Time      // newest instant of which it tells; zero for a fresh one
	zone   *time.Location // of the shop in it; UTC without
	code   string         // sets a shop up; empty when there is one
	key    []byte         // of links' codes; nil: drawn by lot

	files   string // folder of the files that are sent; empty: the one that the program runs in
	guiding engine.Guiding
}

// prepare looks at a file and makes sure that a fresh one holds the example
// shop, unless it is to stay empty. People's numbers come from random.
func prepare(
	ctx context.Context, path string, now time.Time, random io.Reader, empty bool,
) (f chatFile, err error) {
	db, err := store.Open(ctx, path, now)
	if err != nil {
		return f, err
	}
	defer func() { err = errors.Join(err, db.Close()) }()
	sameSalts(db, random)
	if !empty {
		if err := seedFresh(ctx, db, now, random); err != nil {
			return f, err
		}
	}
	code, err := claimEmpty(db, now, random)
	if err != nil {
		return f, err
	}
	f = chatFile{path: path, zone: time.UTC, code: code}
	if f.latest, err = db.Reader().Latest(ctx); err != nil {
		return f, err
	}
	s, err := db.Reader().Shop(ctx, terminal.ChatOf("owner"))
	if err == nil {
		f.zone = s.Location
	} else if errors.Is(err, store.ErrNone) {
		err = nil
	}
	return f, err
}

// sameSalts has a file that a script plays on come out the same every time.
func sameSalts(db *store.DB, random io.Reader) {
	if random != rand.Reader {
		db.SaltsFrom(lots("salts"))
	}
}

// seedFresh adds the example shop to a file without any.
func seedFresh(ctx context.Context, db *store.DB, now time.Time, random io.Reader) error {
	tx, err := db.Begin(now)
	if err != nil {
		return err
	}
	_, err = tx.Shop(1) // shops are numbered from 1
	tx.Rollback()
	if !errors.Is(err, store.ErrNone) {
		return err
	}
	return db.Seed(ctx, random, now, []store.ExampleAccounts{{
		Owner: terminal.ChatOf("owner"), Staff1: terminal.ChatOf("staff1"), Staff2: terminal.ChatOf("staff2"),
	}})
}

// newTalk makes a conversation on a file that prepare has looked at.
func newTalk(e *env, f chatFile, now func() time.Time, random io.Reader) (*terminal.Talk, error) {
	catalogue, err := texts.Load()
	if err != nil {
		return nil, err
	}
	engine := dialogs.New(catalogue).Guide(f.guiding)
	log := slog.New(slog.NewTextHandler(e.stderr, &slog.HandlerOptions{Level: slog.LevelWarn}))
	open := func(ctx context.Context) (terminal.Bot, error) {
		db, err := store.Open(ctx, f.path, now())
		if err != nil {
			return nil, err
		}
		sameSalts(db, random)
		d := desk.New(desk.Options{Store: db, Step: engine.Step, Now: now, Random: random, Key: f.key, Log: log,
			Event: trust.Teller{Texts: catalogue}.Event})
		read := &intake.Statements{Desk: d, Source: db.Reader(), Folder: store.Pictures(f.path), Log: log, Now: now,
			Fetch: func(_ context.Context, name string) ([]byte, error) { return sentFile(f.files, name) }}
		return bot{d, db, read}, nil
	}
	return &terminal.Talk{
		Open: open, Phones: terminal.NewPhones(time.Now().UnixMicro()),
		Transcript: &terminal.Transcript{Out: e.stdout}, Now: now, Run: rand.Text(),
		Code: f.code,
	}, nil
}

// known lists who has a phone in the terminal.
func (f chatFile) known(ctx context.Context) (list []terminal.Known, err error) {
	r, err := store.OpenReader(ctx, f.path)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	all, err := r.Phones(ctx)
	for _, p := range all {
		if speaker, ours := strings.CutPrefix(string(p.Chat), "term:"); ours {
			list = append(list, terminal.Known{Speaker: speaker, Name: p.Name, Role: string(p.Role), Shop: p.Shop,
				Example: p.Shop == shop.Example().Name})
		}
	}
	return list, err
}

// keep writes a file that was sent beside the database, and gives its path.
func (f chatFile) keep(sent *chat.File) (path string, err error) {
	data := sent.Data
	if sent.Drawn() {
		if data, err = chart.DrawnFile(sent); err != nil {
			return "", err
		}
	}
	return beside.Keep(f.path+".files", sent.Name, data)
}

// bot is a desk together with the file it works on.
type bot struct {
	*desk.Desk
	file       *store.DB
	statements *intake.Statements
}

// ReadFiles reads what was sent.
func (b bot) ReadFiles(ctx context.Context) error { return b.statements.Look(ctx) }

// sentFile reads a file that somebody sends. One that is not there cannot be had,
// like one that the chat server has lost.
func sentFile(folder, name string) ([]byte, error) {
	data, err := os.ReadFile(filepath.Join(folder, name))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", intake.ErrNever, err)
	}
	return data, nil
}

// Close lets go of the file.
func (b bot) Close() error { return b.file.Close() }
