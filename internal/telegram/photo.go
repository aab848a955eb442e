package telegram

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"

	"github.com/go-telegram/bot"
)

// PhotoMax is the most bytes of a picture that are fetched: what the platform
// hands out, so that a photo sent as a file comes too.
const PhotoMax = 20 << 20

// ErrPhoto is returned for a picture that will not come by trying again.
var ErrPhoto = errors.New("the picture cannot be had")

// Fetch gets a picture. An error that is not [ErrPhoto] is worth another try;
// none holds the picture's address, since the token is part of it.
func (b *Bot) Fetch(ctx context.Context, id string) ([]byte, error) {
	file, err := b.lib.GetFile(ctx, &bot.GetFileParams{FileID: id})
	switch {
	case errors.Is(err, bot.ErrorBadRequest), errors.Is(err, bot.ErrorForbidden):
		return nil, fmt.Errorf("%w: %w", ErrPhoto, err)
	case err != nil:
		return nil, fmt.Errorf("picture: %w", err)
	case file.FilePath == "" || file.FileSize > PhotoMax:
		return nil, fmt.Errorf("%w: it has %d bytes", ErrPhoto, file.FileSize)
	}
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, b.lib.FileDownloadLink(file), nil)
	if err != nil {
		return nil, fmt.Errorf("%w: its address cannot be used", ErrPhoto)
	}
	resp, err := b.client.http.Do(req)
	if err != nil {
		return nil, fmt.Errorf("picture: %w", withoutURL(err))
	}
	defer func() { _ = resp.Body.Close() }() // read to its end or given up
	switch resp.StatusCode {
	case http.StatusOK:
	case http.StatusNotFound, http.StatusGone: // of an address just given
		return nil, fmt.Errorf("%w: status %d", ErrPhoto, resp.StatusCode)
	default:
		return nil, fmt.Errorf("picture: status %d", resp.StatusCode)
	}
	data, err := io.ReadAll(io.LimitReader(resp.Body, PhotoMax+1))
	if err != nil {
		return nil, fmt.Errorf("picture: %w", withoutURL(err))
	}
	if len(data) > PhotoMax {
		return nil, fmt.Errorf("%w: it has more than %d bytes", ErrPhoto, PhotoMax)
	}
	return data, nil
}
