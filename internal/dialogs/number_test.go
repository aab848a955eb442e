package dialogs_test

import (
	"testing"

	"shopfloat/internal/counts"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/texts"
)

// What an open question takes for itself when digits are typed is the word of
// nothing else: of no command, of no button, and of no yes.
func TestNoWordIsANumber(t *testing.T) {
	f := newFloor(t)
	v := f.Engine.Texts.In("en", f.Shop.Country, f.Shop.Currency)
	var lists, buttons []string
	for _, w := range floor.Words(f.Engine) {
		lists = append(lists, "words."+w.Command)
	}
	for _, flow := range f.Engine.Listed {
		for _, s := range flow.Screens {
			for choice := range s.Taps {
				buttons = append(buttons, "button."+choice)
			}
		}
	}
	for _, id := range append(lists, "words.agreed") {
		for _, word := range v.List(id) {
			if counts.Digits(word) {
				t.Errorf("%s: %q", id, word)
			}
		}
	}
	for _, id := range append(buttons, "button.customers") {
		if counts.Digits(texts.Fold(v.Say(id))) {
			t.Errorf("%s: %q", id, v.Say(id))
		}
	}
	if len(lists) < 40 || len(buttons) < 100 {
		t.Errorf("%d commands, %d buttons", len(lists), len(buttons))
	}
}
