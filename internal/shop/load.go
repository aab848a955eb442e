package shop

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// LoadLevel says how a shop weighs customers turned away against cash that lies idle.
type LoadLevel string

// The levels. Empty is Balanced.
const (
	RarelyEmpty LoadLevel = "rarely-empty"
	Balanced    LoadLevel = "balanced"
	LittleCash  LoadLevel = "little-cash"
	ByCosts     LoadLevel = "costs" // follows from the two costs
)

// Load is what a shop has laid down about how much to load. The zero value is
// balanced, in single notes, for a machine that pays in opening hours only.
type Load struct {
	Level  LoadLevel       `json:"level,omitempty"`
	Missed decimal.Decimal `json:"missed,omitzero"`  // ByCosts: loss for each note asked for in vain
	Idle   decimal.Decimal `json:"idle,omitzero"`    // ByCosts: cost of each note left over, a day
	Whole  bool            `json:"whole,omitempty"`  // whole bundles only
	Always bool            `json:"always,omitempty"` // the machine pays while the shop is closed, too
}

func (l Load) check() error {
	switch l.Level {
	case "", RarelyEmpty, Balanced, LittleCash:
	case ByCosts:
		if !l.Missed.IsPositive() || !l.Idle.IsPositive() {
			return fmt.Errorf("costs of %s and %s a note: both are to be above nothing", l.Missed, l.Idle)
		}
	default:
		return fmt.Errorf("how full to load is %q", l.Level)
	}
	return nil
}
