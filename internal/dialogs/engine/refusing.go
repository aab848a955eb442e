package engine

import (
	"errors"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
)

// refusal says why the books do not take a record, and what to do next. It
// never tells how many notes are there by the ledger: whoever is counting just
// now is not to know.
func (c *Talk) refusal(err error) string {
	why := c.V.Say("refused.other") // the file or the program is at fault, not what was told
	if r, ok := errors.AsType[*books.Refusal](err); ok {
		where := r.From
		if where.Inside() && where != books.Tray && where != books.Path {
			where = "box"
		}
		why = c.V.Say("refused."+string(r.Code), "kind", c.V.Kind(r.Face), "where", c.V.Say("place."+string(where)))
	}
	return c.V.Say("refused") + "\n" + why
}

// NoResult stands where a result would: the figures can be changed, unless
// somebody else closed the day meanwhile, which ends the dialog.
func (c *Talk) NoResult(err error) *Card {
	why := chat.Block{Text: c.refusal(err)}
	if r, ok := errors.AsType[*books.Refusal](err); ok && r.Code == books.DayClosed {
		c.Close(why)
		return nil
	}
	return &Card{Body: []chat.Block{why}, Buttons: [][]chat.Button{c.Button("change", "figures")}}
}

// outlived ends a dialog that was left open until its period was no longer at
// hand: others closed it and went on, or its opening was taken back.
func (c *Talk) outlived() bool {
	f, no := c.Flow(), c.State.Draft.Period
	if f == nil || f.Lasts || c.In.Kind == chat.Remind ||
		c.M.ID != c.State.Machine || c.M.Period(no) != nil {
		return false
	}
	if c.In.Kind == chat.Secret {
		c.Drop()
	}
	c.Close(chat.Block{Text: c.refusal(&books.Refusal{Code: books.DayUnknown, Period: no})})
	return true
}
