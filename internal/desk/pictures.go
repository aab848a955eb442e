package desk

import (
	"context"

	"shopfloat/internal/store"
)

// Unfetched lists the photos that are still to be fetched.
func (d *Desk) Unfetched(ctx context.Context) ([]store.Picture, error) {
	return d.reader.Unfetched(ctx)
}

// KeepPicture notes the digest of a photo's file, nil when it cannot be had.
func (d *Desk) KeepPicture(ctx context.Context, p store.Picture, digest []byte) error {
	return d.submit(ctx, &job{apply: func(t *store.Tx) error { return t.KeepPicture(p, digest) }})
}
