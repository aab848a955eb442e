package floor

import (
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// Talk is a talk at a local time like "2026-11-26 09:00" in a shop of no machine
// and no plan, for what only reads the clock or the texts.
func Talk(t testing.TB, local string) *engine.Talk {
	t.Helper()
	zone := time.FixedZone("", 3600)
	now, err := time.ParseInLocation("2006-01-02 15:04", local, zone)
	if err != nil {
		t.Fatal(err)
	}
	s := &shop.Shop{Settings: shop.Settings{Country: "IE", Currency: "EUR"}, Location: zone}
	e := engine.New(Texts(t), nil)
	return e.Talk(chat.State{V: chat.StateFormat}, chat.Input{At: now}, chat.Facts{Shop: s, Lang: "en"})
}
