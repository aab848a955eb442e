package telling

import (
	"shopfloat/internal/shop"
	"shopfloat/internal/texts"
)

// Feast says how a public holiday is kept.
func Feast(t *Teller, h shop.HolidayChoice) string {
	if h.Hours != nil {
		return t.V.Say("feast.kept-hours", "what", h.Name, "hours", Span(*h.Hours))
	}
	return t.V.Say(texts.Either(h.Trades, "feast.kept-open", "feast.kept-closed"), "what", h.Name)
}
