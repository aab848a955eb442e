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
