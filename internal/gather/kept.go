package gather

import (
	"context"
	"slices"
	"strings"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// keptBy is a file as somebody sees it who keeps the books of some of its shops.
type keptBy struct {
	Source
	shops []shop.ID
}

// For gives a file as it is, or as somebody sees it: a user's number, or a chat of the
// terminal by its name.
func For(ctx context.Context, src Source, who string) (Source, error) {
	if who == "" {
		return src, nil
	}
	where := chat.Chat("term:" + who)
	if strings.Trim(who, "0123456789") == "" {
		where = chat.Chat("tg:" + who)
	}
	shops, err := src.Keeps(ctx, where)
	return keptBy{src, shops}, err
}

// Shops lists the shops whose books they keep.
func (k keptBy) Shops(ctx context.Context, fn func(*shop.Shop) error) error {
	return k.Source.Shops(ctx, func(s *shop.Shop) error {
		if !slices.Contains(k.shops, s.ID) {
			return nil
		}
		return fn(s)
	})
}
