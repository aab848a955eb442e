package helping_test

import (
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
	"shopfloat/internal/helping"
)

// Words that mean a button of a card that stands by itself bring the buttons again, that one first;
// not where words are as good as a tap, nor for a card of a dialog, which is answered there.
func TestMeant(t *testing.T) {
	teller := teller(floor.New(t, dialogs.New), "staff1")
	shown := []chat.Button{
		{Label: "Till", Data: "o:ticks:1.test-till"}, {Label: "Shop's safe", Data: "o:ticks:1.test-safe"}}
	never := func(chat.Tapped) bool { return false }
	r, ok := helping.Meant(teller, shown, "it is in the safe", never)
	if !ok || len(r.Buttons) != 2 || r.Buttons[0][0] != shown[1] || r.Buttons[1][0] != shown[0] {
		t.Errorf("%v %+v", ok, r)
	}
	if _, ok := helping.Meant(teller, shown, "it is in the bag", never); ok {
		t.Error("no button has a bag")
	}
	wordy := func(tap chat.Tapped) bool { return tap.Choice == "ticks" && tap.Arg == "1.test-safe" }
	if _, ok := helping.Meant(teller, shown, "it is in the safe", wordy); ok {
		t.Error("its words are as good as a tap")
	}
	asked := chat.Tagged(3, [][]chat.Button{{{Label: "Shop's safe", Data: "safe"}}})[0]
	if _, ok := helping.Meant(teller, asked, "the safe", never); ok {
		t.Error("a card of a dialog is answered there")
	}
}
