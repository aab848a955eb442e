package trade

import (
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/founding"
	"shopfloat/internal/shop"
)

// NewShop gives a step's working set in a shop that is only being founded.
func NewShop(
	e *engine.Engine, st chat.State, in chat.Input, f chat.Facts, owner shop.Person,
) (*engine.Talk, error) {
	s := founding.Fresh(owner)
	sh, err := shop.New(0, 0, s)
	if err != nil {
		return nil, err
	}
	f.Shop, f.Person, f.Machine, f.Several = sh, owner, nil, false
	c := e.Talk(chat.State{V: chat.StateFormat, Rev: st.Rev + 1}, in, f)
	c.Settings = &s
	return c, nil
}
