package helping

import (
	"slices"

	"shopfloat/internal/chat"
	"shopfloat/internal/choosing"
	"shopfloat/internal/telling"
)

// Meant shows again the buttons of a card that stands by itself, the one first that words mean: it is to
// be tapped, since a tap may book and words do not. False: they mean none, or one that wordy tells: what is
// said to that needs no tap.
func Meant(t *telling.Teller, shown []chat.Button, typed string, wordy func(chat.Tapped) bool) (
	r chat.Reply, ok bool,
) {
	labels := make([]string, len(shown))
	for i, b := range shown {
		labels[i] = b.Label
		r.Buttons = append(r.Buttons, []chat.Button{b})
	}
	i := choosing.Explained(typed, labels)
	if i < 0 {
		return r, false
	}
	tap, _ := chat.ParseTap(shown[i].Data)
	r.Body = []chat.Block{{Text: t.V.Say("tap-button")}}
	r.Buttons = slices.Concat(r.Buttons[i:i+1], r.Buttons[:i], r.Buttons[i+1:])
	return r, !tap.Dialog && !wordy(tap)
}
