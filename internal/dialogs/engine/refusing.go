package engine

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/telling"
)

// outlived ends a dialog that was left open until its period was no longer at
// hand: others closed it and went on, or its opening was taken back.
func (c *Talk) outlived() bool {
	f, no := c.Flow(), c.State.Draft.Period
	if f == nil || f.Lasts || c.In.Kind == chat.Remind || c.M.ID != c.State.Machine || c.M.Period(no) != nil {
		return false
	}
	if c.In.Kind == chat.Secret {
		c.Drop()
	}
	c.Close(chat.Block{Text: telling.Refusal(c.Teller, &books.Refusal{Code: books.DayUnknown, Period: no})})
	return true
}
