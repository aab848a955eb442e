package trade

import (
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/ask"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/telling"
)

// Ready finds the open period a dialog is about, or ends the dialog. What was left of one
// may be told until its result is recorded.
func Ready(c *engine.Talk) *books.Period {
	p := ask.Target(c)
	if p == nil || p.Status != books.Open && (p.Status != books.Waiting || c.State.Draft.Then == nil) {
		c.Close(chat.Block{Text: telling.NothingOpen(c.Teller, c.State.Draft.Happened)})
		return nil
	}
	c.State.Draft.Period = p.No
	return p
}
