package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"shopfloat/internal/intake"
	"shopfloat/internal/store"
	"shopfloat/internal/telegram"
)

// fetchFiles fetches and reads what people sent, until ctx is done.
func (s *service) fetchFiles(ctx context.Context) error {
	if err := store.TidyPictures(s.photos); err != nil {
		s.log.Warn("left over", "why", err)
	}
	photos := intake.Photos{Desk: s.desk, Folder: s.photos, Fetch: s.fetch, Log: s.log,
		Now: time.Now}
	statements := intake.Statements{Desk: s.desk, Source: s.reader, Folder: s.photos, Fetch: s.fetch, Log: s.log,
		Now: time.Now}
	look := time.NewTicker(intake.Every)
	defer look.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-look.C:
		}
		if err := errors.Join(photos.Look(ctx), statements.Look(ctx)); err != nil && ctx.Err() == nil {
			s.log.Warn("files are looked for later", "why", err)
		}
	}
}

// fetch gets a file from the chat server.
func (s *service) fetch(ctx context.Context, id string) ([]byte, error) {
	data, err := s.bot.Fetch(ctx, id)
	if errors.Is(err, telegram.ErrPhoto) {
		err = fmt.Errorf("%w: %w", intake.ErrNever, err)
	}
	return data, err
}
