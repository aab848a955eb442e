package trade_test

import (
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/dialogs/trade"
	"shopfloat/internal/shop"
)

// A shop that is only being founded has its first person and nothing else.
func TestNewShop(t *testing.T) {
	f := floor.New(t, floor.Of())
	facts := f.Facts("owner")
	facts.Several = true
	owner := shop.Person{ID: 0, Name: "Dora", Role: shop.Owner}
	c, err := trade.NewShop(f.Engine, chat.State{Rev: 4, Flow: "x"}, chat.Input{At: f.Now}, facts, owner)
	if err != nil || c.State.Rev != 5 || c.State.Flow != "" || c.F.Person != owner || c.F.Several ||
		c.F.Machine != nil {
		t.Fatalf("%+v: %v", c, err)
	}
	if s := c.Settings; s == nil || !s.Fresh || s.Currency != "EUR" || len(s.People) != 1 ||
		len(s.Machines) != 0 {
		t.Errorf("settings %+v", s)
	}
}
