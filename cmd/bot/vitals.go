package main

import (
	"context"
	"time"

	"shopfloat/internal/backup"
	"shopfloat/internal/vitals"
)

// tellVitals answers other programs of this computer, where that is wanted.
func (s *service) tellVitals(ctx context.Context) error {
	if s.vitals == "" {
		return nil
	}
	began := time.Now()
	return vitals.Serve(ctx, s.vitals, func() vitals.Reading { return s.reading(began, time.Now()) })
}

func (s *service) reading(began, now time.Time) vitals.Reading {
	v := s.desk.Vitals()
	r := vitals.Reading{
		Inputs: v.Inputs, Commits: v.Commits, Records: v.Records, Parked: v.Parked, Unsent: v.Unsent,
		OnPaper: v.OnPaper, Copied: -1, Copies: s.copies.Backup != "", Faults: s.night.Faults(),
	}
	if !v.Oldest.IsZero() {
		r.Oldest = now.Sub(v.Oldest)
	}
	if r.Polled = now.Sub(s.bot.Polled()); s.bot.Polled().IsZero() {
		r.Polled = now.Sub(began)
	}
	if m, known, err := backup.Last(s.file); err == nil && known {
		r.Copied = now.Sub(m.At)
	}
	return r
}
