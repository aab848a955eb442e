package telegram_test

import (
	"strings"
	"testing"
	"time"

	"shopfloat/internal/telegram"
)

// A message of the bot's own comes along with what answers, forwards or taps it, with
// the time at which it was sent or changed last. Anybody else's does not.
// The layouts are those of Message, CallbackQuery and MessageOriginUser in the Bot API 10.1.
func TestCardsThatComeAlong(t *testing.T) {
	const (
		bot    = `"from":{"id":4,"is_bot":true,"first_name":"B"}`
		origin = `"forward_origin":{"type":"user","date":1795586400,"sender_user":{"id":4,"is_bot":true,` +
			`"first_name":"B"}}`
		hidden = `"forward_origin":{"type":"hidden_user","date":1795586400,"sender_user_name":"B"}`
	)
	answers := func(fields string) string {
		return said(`"text":"?","reply_to_message":{"message_id":2,` + private + `,` + fields + `}`)
	}
	tap := func(fields string) string {
		return `{"update_id":7,"callback_query":{"id":"q1",` + ann + `,"message":{"message_id":3,` + private +
			`,` + fields + `},"data":"d:3:yes"}}`
	}
	six := time.Date(2026, 11, 25, 6, 0, 0, 0, time.UTC)
	long := strings.Repeat("é", 3000)
	for name, c := range map[string]struct {
		raw, text string
		at        time.Time
	}{
		"answered": {answers(bot + `,"date":1795586400,"text":"card"`), "card", six},
		"answered, changed": {answers(bot + `,"date":1795580000,"edit_date":1795586400,"text":"card"`),
			"card", six},
		"answered, long":      {answers(bot + `,"date":1795586400,"text":"` + long + `"`), long[:1024], six},
		"answered themselves": {answers(ann + `,"date":1795586400,"text":"card"`), "", six},
		"answered a picture":  {answers(bot + `,"date":1795586400,"caption":"card"`), "", six},
		"forwarded":           {said(`"text":"card",` + origin), "card", six},
		"forwarded, hidden":   {said(`"text":"card",` + hidden), "", six},
		"tapped":              {tap(bot + `,"date":1795586400,"text":"card"`), "card", six},
		"tapped, too old":     {tap(`"date":0`), "", six},
		"nothing":             {said(`"text":"card"`), "", six},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := telegram.Decode([]byte(c.raw), noon())
			if err != nil {
				t.Fatal(err)
			}
			card := got.Input.Card
			if (card == nil) != (c.text == "") {
				t.Fatalf("got %+v, want %q", card, c.text)
			}
			if card != nil && (card.Text != c.text || !card.At.Equal(c.at)) {
				t.Errorf("got %q of %v, want %q of %v", card.Text, card.At, c.text, c.at)
			}
		})
	}
}
