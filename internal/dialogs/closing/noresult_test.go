package closing_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/closing"
	"shopfloat/internal/dialogs/floor"
)

// Where the books take no result, the figures can be changed; a day that others
// closed meanwhile ends the dialog.
func TestNoResult(t *testing.T) {
	f := floor.New(t, dialogs.New)
	f.Play("staff1: open 40 150 200; [Confirm]; close 12 60 80")
	c := f.Talk("staff1")
	k := closing.NoResult(c, &books.Refusal{Code: books.TooFew, Face: "20", From: books.Tray})
	if k == nil || k.Buttons[0][0].Data != "figures" || c.State.Flow == "" {
		t.Errorf("shown %+v", k)
	}
	if k = closing.NoResult(c, &books.Refusal{Code: books.DayClosed}); k != nil || c.State.Flow != "" ||
		len(c.Replies) != 1 {
		t.Errorf("shown %+v, in %q", k, c.State.Flow)
	}
}
