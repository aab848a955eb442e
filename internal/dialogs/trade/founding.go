package trade

import (
	"github.com/shopspring/decimal"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/shop"
)

// freshSettings are those of a shop before anything is known of it.
func freshSettings(owner shop.Person) shop.Settings {
	return shop.Settings{Zone: "UTC", Currency: "EUR", Limit: decimal.Zero, Fresh: true,
		People: []shop.Person{owner}}
}

// NewShop gives a step's working set in a shop that is only being founded.
func NewShop(
	e *engine.Engine, st chat.State, in chat.Input, f chat.Facts, owner shop.Person,
) (*engine.Talk, error) {
	s := freshSettings(owner)
	sh, err := shop.New(0, 0, s)
	if err != nil {
		return nil, err
	}
	f.Shop, f.Person, f.Machine, f.Several = sh, owner, nil, false
	c := e.Talk(chat.State{V: chat.StateFormat, Rev: st.Rev + 1}, in, f)
	c.Settings = &s
	return c, nil
}
