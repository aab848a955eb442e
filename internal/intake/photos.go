package main

import (
	"context"
	"errors"
	"time"

	"shopfloat/internal/photo"
	"shopfloat/internal/store"
	"shopfloat/internal/telegram"
)

// Photos wait in the ledger as a name; the pictures themselves are fetched
// right after, since the name may expire.
const (
	photosEvery = 2 * time.Second
	photosPause = 10 * time.Minute // the longest between two tries for one
)

// fetchPhotos fetches what people sent, until ctx is done.
func (s *service) fetchPhotos(ctx context.Context) error {
	if err := store.TidyPictures(s.photos); err != nil {
		s.log.Warn("left over", "why", err)
	}
	look := time.NewTicker(photosEvery)
	defer look.Stop()
	later := tries{}
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-look.C:
		}
		if err := s.fetchWaiting(ctx, later); err != nil && ctx.Err() == nil {
			s.log.Warn("photos are looked for later", "why", err)
		}
	}
}

// fetchWaiting fetches every photo that waits. One that does not come holds up no other.
func (s *service) fetchWaiting(ctx context.Context, later tries) error {
	list, err := s.desk.Unfetched(ctx)
	if err != nil {
		return err
	}
	for _, p := range list {
		if ctx.Err() != nil || !later.ready(p, time.Now()) {
			continue
		}
		switch err := s.fetchPhoto(ctx, p); {
		case err == nil:
			delete(later, p)
		case ctx.Err() == nil:
			wait := later.failed(p, time.Now())
			s.log.Warn("a photo is fetched later", "machine", p.Machine, "entry", p.Seq, "in", wait, "why", err)
		}
	}
	return nil
}

// fetchPhoto makes the file durable before it is noted, so that a photo noted is a photo kept.
func (s *service) fetchPhoto(ctx context.Context, p store.Picture) error {
	data, err := s.bot.Fetch(ctx, p.ID)
	if errors.Is(err, telegram.ErrPhoto) {
		s.log.Warn("a photo cannot be had", "machine", p.Machine, "entry", p.Seq, "why", err)
		return s.desk.LosePicture(ctx, p)
	}
	if err != nil {
		return err
	}
	if data, err = photo.Clean(data); err != nil {
		s.log.Warn("what was sent as a photo is none", "machine", p.Machine, "entry", p.Seq, "why", err)
		return s.desk.LosePicture(ctx, p)
	}
	digest, err := store.SavePicture(s.photos, data)
	if err != nil {
		return err
	}
	return s.desk.KeepPicture(ctx, p, digest)
}

// tries remembers the photos that did not come, until the program ends.
type tries map[store.Picture]try

type try struct {
	wait time.Duration // twice the last one, see photosPause
	next time.Time
}

func (t tries) ready(p store.Picture, now time.Time) bool { return !now.Before(t[p].next) }

// failed gives how long to wait before the next try.
func (t tries) failed(p store.Picture, now time.Time) time.Duration {
	wait := min(max(2*t[p].wait, photosEvery), photosPause)
	t[p] = try{wait: wait, next: now.Add(wait)}
	return wait
}
