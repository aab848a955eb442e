package engine_test

import (
	"testing"

	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// "What now" in whatever words is a question and no answer: go on or leave is shown again, and
// nothing is said not to be taken.
func TestWhatNowAtTheFork(t *testing.T) {
	for said, asks := range map[string]bool{"what was i doing": true, "what should i do now?": true,
		"the blue ones": false, "the shutter is stuck": false} {
		flow := twoScreens()
		flow.Loses = func(*engine.Talk) bool { return true }
		f := floor.New(t, floor.Of(flow, another(engine.DoFloat, "found")))
		f.Says("staff1", "move")
		f.Says("staff1", "float")
		not := "found?"
		want := "[Go on with moving notes]"
		if asks {
			not += "|could not take in"
		} else {
			want += "|could not take in"
		}
		expect(t, f.Says("staff1", said), want, not)
	}
}

// A command's words with a sentence behind them are that sentence, and with figures behind them
// the command, whatever is only said between; in an engine without an ear they always are.
func TestSentenceBehindACommand(t *testing.T) {
	open := tells(engine.DoOpen, "opened")
	open.Takes = engine.OnlyFigures
	for said, want := range map[string]string{
		"open": "bot> opened \n", "open 40 150 200": "bot> opened 40 150 200\n",
		"open now with 40 150 200":  "bot> opened 40 150 200\n",
		"open the shutter is stuck": "not understand",
	} {
		f := floor.New(t, floor.Of(open))
		expect(t, f.Says("staff1", said), want, "")
		deaf := floor.With(t, floor.Of(open)(floor.Texts(t)))
		expect(t, deaf.Says("staff1", said), "bot> opened", "")
	}
}

// What was not understood is noted in its plain form, where there is an ear and the words were
// not taught.
func TestPuzzledNotes(t *testing.T) {
	f := floor.New(t, floor.Of())
	c := f.Talk("staff1")
	c.In.Text = "The thingy  WOBBLES"
	if c.Puzzled(); c.Missed != "the thingy wobbles" {
		t.Errorf("noted %q", c.Missed)
	}
	deaf := floor.With(t, floor.Of()(floor.Texts(t))).Talk("staff1")
	deaf.In.Text = c.In.Text
	if deaf.Puzzled(); deaf.Missed != "" || deaf.Asks() {
		t.Errorf("without an ear it notes %q", deaf.Missed)
	}
}
