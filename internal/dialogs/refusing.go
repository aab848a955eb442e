package dialogs

import (
	"errors"

	"shopfloat/internal/books"
)

// refusal says why the books do not take a record, and what to do next. It
// never tells how many notes are there by the ledger: whoever is counting just
// now is not to know.
func (c *talk) refusal(err error) string {
	why := c.v.Say("refused.other") // the file or the program is at fault, not what was told
	if r, ok := errors.AsType[*books.Refusal](err); ok {
		where := r.From
		if where.Inside() && where != books.Tray && where != books.Path {
			where = "box"
		}
		why = c.v.Say("refused."+string(r.Code), "kind", c.v.Kind(r.Face), "where", c.v.Say("place."+string(where)))
	}
	return c.v.Say("refused") + "\n" + why
}

// noResult stands where a result would: the figures can be changed, unless
// somebody else closed the day meanwhile, which ends the dialog.
func (c *talk) noResult(err error) *card {
	why := Block{Text: c.refusal(err)}
	if r, ok := errors.AsType[*books.Refusal](err); ok && r.Code == books.DayClosed {
		c.close(why)
		return nil
	}
	return &card{body: []Block{why}, buttons: [][]Button{c.button("change", "figures")}}
}

// outlived ends a dialog that was left open until its period was no longer at
// hand: others closed it and went on, or its opening was taken back.
func (c *talk) outlived() bool {
	f, no := c.flow(), c.State.Draft.Period
	if f == nil || no == 0 || f.lasts || c.in.Kind == Remind ||
		c.m.ID != c.State.Machine || c.m.Period(no) != nil {
		return false
	}
	if c.in.Kind == Secret {
		c.drop()
	}
	c.close(Block{Text: c.refusal(&books.Refusal{Code: books.DayUnknown, Period: no})})
	return true
}
