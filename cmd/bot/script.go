package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"shopfloat/internal/shop"
	"shopfloat/internal/store"
	"shopfloat/internal/terminal"
)

// stage says where a script is played.
type stage struct {
	file    string // empty: a fresh one that is thrown away
	speaker string
	empty   bool   // a fresh file gets no shop
	files   string // folder of the files that are sent
	story   bool   // print the comments as headings
	guides  string
}

// playScript plays a script at its own time. Whatever is drawn by lot follows
// from the file, so that the conversation is the same every time.
func playScript(e *env, in io.Reader, s stage) (err error) {
	if s.file == "" {
		dir, err := os.MkdirTemp("", "shopfloat-")
		if err != nil {
			return err
		}
		defer func() { _ = os.RemoveAll(dir) }()
		s.file = filepath.Join(dir, "chat.db")
	}
	seeded, err := scriptStart(shop.Example().Zone)
	if err != nil {
		return err
	}
	f, err := prepare(e.ctx, s.file, seeded, lots("people"), s.empty)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.close()) }()
	clock, err := scriptClock(e.ctx, f)
	if err != nil {
		return err
	}
	if f.guiding, err = guiding(e, s.guides); err != nil {
		return err
	}
	f.files = s.files
	f.key = []byte("script") // one script has the same links whenever it is played
	talk, err := newTalk(e, f, clock.Now, lots("run "+f.latest.UTC().Format(time.RFC3339Nano)))
	if err != nil {
		return err
	}
	talk.Speaker = s.speaker
	script := terminal.Script{Talk: talk, Clock: clock, Headings: s.story}
	err = script.Play(e.ctx, in)
	if broken := (*terminal.BrokenError)(nil); errors.As(err, &broken) {
		return misuse(err)
	}
	return err
}

// scriptClock stands at the file's last instant.
func scriptClock(ctx context.Context, f *chatFile) (*terminal.Clock, error) {
	clock := &terminal.Clock{}
	if !f.latest.IsZero() {
		clock.Set(f.latest)
		return clock, nil
	}
	zone := time.UTC
	if s, err := f.db.Reader().Shop(ctx, terminal.ChatOf("owner")); err == nil {
		zone = s.Location
	} else if !errors.Is(err, store.ErrNone) {
		return nil, err
	}
	start, err := scriptStart(zone.String())
	clock.Set(start)
	return clock, err
}

// scriptStart is what the clock of a script shows in a fresh file.
func scriptStart(zone string) (time.Time, error) {
	loc, err := time.LoadLocation(zone)
	return time.Date(2026, time.January, 5, 8, 0, 0, 0, loc), err
}

// lots draws the same lots for the same label.
func lots(label string) io.Reader {
	return rand.NewChaCha8(sha256.Sum256([]byte("shopfloat " + label)))
}
