package main

import (
	"context"
	"crypto/rand"
	"errors"
	"io"
	"log/slog"
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
	"shopfloat/internal/workbook"
)

// chatFile is a file that a conversation works on.
type chatFile struct {
	path   string
	db     *store.DB // as it was prepared; nil once the conversation has it
	latest time.Time // newest instant of which it tells; zero for a fresh one
	code   string    // sets a shop up; empty when there is one
	key    []byte    // of links' codes; nil: drawn by lot

	files   string // folder of the files that are sent; empty: the one that the program runs in
	guiding engine.Guiding
}

// prepare opens a file and makes sure that a fresh one holds the example
// shop, unless it is to stay empty. People's numbers come from the lot.
func prepare(ctx context.Context, path string, now time.Time, lot io.Reader, empty bool) (*chatFile, error) {
	db, err := store.Open(ctx, path, now)
	if err != nil {
		return nil, err
	}
	f := &chatFile{path: path, db: db}
	sameSalts(db, lot)
	if !empty {
		err = seedFresh(ctx, db, now, lot)
	}
	if err == nil {
		f.code, err = claimEmpty(db, now, lot)
	}
	if err == nil {
		f.latest, err = db.Reader().Latest(ctx)
	}
	if err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return f, nil
}

// close lets go of a file that no conversation has.
func (f *chatFile) close() error {
	if f.db == nil {
		return nil
	}
	return f.db.Close()
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
func newTalk(e *env, f *chatFile, now func() time.Time, random io.Reader) (*terminal.Talk, error) {
	catalogue, err := texts.Load()
	if err != nil {
		return nil, err
	}
	engine := dialogs.New(catalogue).Guide(f.guiding)
	engine.Book = workbook.Write
	log := slog.New(slog.NewTextHandler(e.stderr, &slog.HandlerOptions{Level: slog.LevelWarn}))
	open := func(ctx context.Context) (_ terminal.Bot, err error) {
		db := f.db // the first time
		if f.db = nil; db == nil {
			if db, err = store.Open(ctx, f.path, now()); err != nil {
				return nil, err
			}
		}
		sameSalts(db, random)
		d := desk.New(desk.Options{Store: db, Step: engine.Step, Now: now, Random: random, Key: f.key, Log: log,
			Event: trust.Teller{Texts: catalogue}.Event})
		read := &intake.Statements{Desk: d, Source: db.Reader(), Folder: store.Pictures(f.path), Log: log, Now: now,
			Fetch: intake.From(f.files)}
		return bot{d, db, read}, nil
	}
	return &terminal.Talk{
		Open: open, Phones: terminal.NewPhones(time.Now().UnixMicro()),
		Transcript: &terminal.Transcript{Out: e.stdout}, Now: now, Run: rand.Text(),
		Code: f.code,
	}, nil
}

// known lists who has a phone in the terminal.
func (f *chatFile) known(ctx context.Context) (list []terminal.Known, err error) {
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
func (f *chatFile) keep(sent *chat.File) (path string, err error) {
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

// Close lets go of the file.
func (b bot) Close() error { return b.file.Close() }
