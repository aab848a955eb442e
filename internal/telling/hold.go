package telling

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/names"
	"shopfloat/internal/shop"
)

// HoldLines say what a hold is about.
func HoldLines(t *Teller, h shop.Hold) []string {
	lines := []string{t.V.Say("hold.head")}
	if h.Until != "" {
		lines[0] = t.V.Say("hold.until", "day", t.V.Day(h.Until.Time()))
	}
	if h.Why != "" {
		lines = append(lines, t.V.Say("hold.why", "why", names.Words(h.Why)))
	}
	return append(lines, t.V.Say("hold.by", "who", t.Name(h.By)))
}

// LiftButton lifts a hold.
func LiftButton(t *Teller) [][]chat.Button {
	return [][]chat.Button{t.Button("lift", "o:lift:hold")}
}

// HoldKey names the card from which a hold is lifted.
const HoldKey = "hold"
