package intake

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"shopfloat/internal/photo"
	"shopfloat/internal/store"
)

// Album is where photos wait and what became of them is noted.
type Album interface {
	Unfetched(ctx context.Context) ([]store.Picture, error)
	KeepPicture(ctx context.Context, p store.Picture, digest []byte) error
	LosePicture(ctx context.Context, p store.Picture) error
}

// Photos fetches photos. They wait in the ledger as a name; the pictures themselves
// are fetched right after, since the name may expire.
type Photos struct {
	Desk   Album
	Folder string
	Fetch  func(ctx context.Context, id string) ([]byte, error)
	Log    *slog.Logger
	Now    func() time.Time

	later Tries[store.Picture]
}

// Look fetches every photo that waits. One that does not come holds up no other.
func (s *Photos) Look(ctx context.Context) error {
	list, err := s.Desk.Unfetched(ctx)
	if err != nil {
		return err
	}
	if s.later == nil {
		s.later = Tries[store.Picture]{}
	}
	for _, p := range list {
		if ctx.Err() != nil || !s.later.Ready(p, s.Now()) {
			continue
		}
		switch err := s.one(ctx, p); {
		case err == nil:
			delete(s.later, p)
		case ctx.Err() == nil:
			wait := s.later.Failed(p, s.Now())
			s.Log.Warn("a photo is fetched later", "machine", p.Machine, "entry", p.Seq, "in", wait, "why", err)
		}
	}
	return nil
}

// one makes the file durable before it is noted, so that a photo noted is a photo kept.
func (s *Photos) one(ctx context.Context, p store.Picture) error {
	data, err := s.Fetch(ctx, p.ID)
	if errors.Is(err, ErrNever) {
		s.Log.Warn("a photo cannot be had", "machine", p.Machine, "entry", p.Seq, "why", err)
		return s.Desk.LosePicture(ctx, p)
	}
	if err != nil {
		return err
	}
	if data, err = photo.Clean(data); err != nil {
		s.Log.Warn("what was sent as a photo is none", "machine", p.Machine, "entry", p.Seq, "why", err)
		return s.Desk.LosePicture(ctx, p)
	}
	digest, err := store.SavePicture(s.Folder, data)
	if err != nil {
		return err
	}
	return s.Desk.KeepPicture(ctx, p, digest)
}
