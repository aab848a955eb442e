package main

import (
	"context"
	"errors"
	"time"

	"shopfloat/internal/store"
	"shopfloat/internal/telegram"
)

// Photos wait in the ledger as a name; the pictures themselves are fetched
// when there is time.
const (
	photosEvery = 2 * time.Second
	photosPause = 2 * time.Minute // after a fetch that may work later
)

// fetchPhotos fetches what people sent, until ctx is done.
func (s *service) fetchPhotos(ctx context.Context) error {
	pause := photosEvery
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-time.After(pause):
		}
		pause = photosEvery
		if err := s.fetchWaiting(ctx); err != nil && ctx.Err() == nil {
			s.log.Warn("a photo is fetched later", "why", err)
			pause = photosPause
		}
	}
}

// fetchWaiting fetches every photo that waits. One that cannot be had is noted
// as such; any other error ends the round.
func (s *service) fetchWaiting(ctx context.Context) error {
	list, err := s.desk.Unfetched(ctx)
	if err != nil {
		return err
	}
	for _, p := range list {
		if err := s.fetchPhoto(ctx, p); err != nil {
			return err
		}
	}
	return nil
}

// fetchPhoto makes the file durable before it is noted, so that a photo noted is a photo kept.
func (s *service) fetchPhoto(ctx context.Context, p store.Picture) error {
	data, err := s.bot.Fetch(ctx, p.ID)
	if errors.Is(err, telegram.ErrPhoto) {
		s.log.Warn("a photo cannot be had", "machine", p.Machine, "entry", p.Seq, "why", err)
		return s.desk.KeepPicture(ctx, p, nil)
	}
	if err != nil {
		return err
	}
	digest, err := store.SavePicture(s.photos, data)
	if err != nil {
		return err
	}
	return s.desk.KeepPicture(ctx, p, digest)
}
