package trouble_test

import (
	"testing"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs"
	"shopfloat/internal/dialogs/floor"
)

// Small talk is answered once a day and no more; within a count it is answered by the question
// that is open.
func TestSmallTalk(t *testing.T) {
	f := morning(t)
	f.Expect(f.Says("staff1", "thank you"), "You are welcome.", "nothing close")
	for _, text := range []string{"thanks", "nice weather"} {
		if got := f.Says("staff1", text); got != "" {
			t.Errorf("%q is answered: %s", text, got)
		}
	}
	f.At("2026-11-26 06:50")
	f.Expect(f.Says("staff1", "nice weather"), "All right. Write now to see what comes next.", "welcome")
	f.Expect(f.Says("staff1", "thank you"), "", "welcome")
	f.Says("staff1", "close 40")
	f.Expect(f.Says("staff1", "thank you"), "20s (middle box): how many", "welcome|understand")
	f.Expect(f.Says("staff1", "what now"), "20s (middle box): how many", "welcome|understand")
}

// What nothing is close to is said with what can be done now; within a count it says that nothing
// is lost, and the question comes again.
func TestNothingClose(t *testing.T) {
	f := morning(t)
	f.Expect(f.Says("staff1", "wibble wobble"), "I have nothing close to that.|[Something is wrong]",
		"[None of these]")
	if f.Last.Missed == "" {
		t.Error("it is not noted as not understood")
	}
	f.Says("staff1", "close 40")
	f.Expect(f.Says("staff1", "wibble wobble"), "Nothing is lost.|20s (middle box): how many",
		"Something is wrong")
	f.Expect(f.Says("staff1", "the shutter is stuck"), "Step 1|20s (middle box): how many", "Nothing is lost")
}

// A code of the machine is asked back by whether it pays, since what it means only its provider knows.
func TestCodeOfTheMachine(t *testing.T) {
	f := morning(t)
	f.Expect(f.Says("staff1", "error 5012"), "Code 5012. Does the machine still pay out?|[Yes, it pays out]|"+
		"[No, it does not]", "Step 1")
	f.Expect(f.Taps("staff1", "No, it does not"), "Step 1", "Code 5012")
}

// "The money came" without a sum offers what the bank owes first; with a sum, and from who may not
// book it, it is what it always is.
func TestTheMoneyCame(t *testing.T) {
	f := floor.Owed(t, dialogs.New)
	f.Expect(f.Says("owner", "the money came"), "Mon 23 Nov: exactly €4,380, today?|[Yes, €4,380 came]|"+
		"[Another amount]|[Another day]", "How much")
	f.Expect(f.Taps("owner", "Yes, €4,380"), "due for Mon 23 Nov  €4,380|[Confirm]", "How much")
	f.Says("owner", "cancel")
	f.Expect(f.Says("owner", "the money came 500"), "due for Tue 24 Nov  €500|[Confirm]", "exactly €4,380")
	f.Says("owner", "cancel")
	f.Expect(f.Says("staff1", "the money came"), "not part of your role", "€")
	f.Play("owner: credit 5880 for monday to wednesday; [Confirm]")
	f.Expect(f.Says("owner", "the money came"), "How much did the bank pay", "exactly")
}

// A robbery that is said to be over goes on with the guide for whoever spoke of it, ends for a
// manager, and is nothing of somebody else's; one that never was is said to be that.
func TestRobberyPasses(t *testing.T) {
	robbed := func() *floor.Floor {
		f := morning(t)
		f.Says("staff1", "man with a gun")
		return f
	}
	f := robbed()
	f.Expect(f.Says("staff1", "it is over"), "Ring 112 first|[Rung]|Ben says: it is over, they are safe.",
		"solved")
	f.Expect(f.Says("owner", "it is over"), "Robbery or threat: solved, 06:40.", "false alarm")
	if fault(f).Unsolved() {
		t.Errorf("on record as %+v", fault(f))
	}
	f = robbed()
	f.Expect(f.Says("staff2", "it is over"), "", "solved|they are safe")
	if !fault(f).Unsolved() {
		t.Error("ended by somebody who did not speak of it")
	}
	for _, who := range []string{"staff1", "owner"} {
		f = robbed()
		f.Expect(f.Says(who, "false alarm, nothing happened"), "noted as begun by mistake|says: a false alarm",
			"solved")
		if got := fault(f).Ending; got != books.Mistake {
			t.Errorf("%s: it ended as %q", who, got)
		}
	}
}

// What was not understood often enough can be given a meaning by a manager: a guide, a command, or
// nothing; a robbery and what no button names cannot be meant.
func TestLessons(t *testing.T) {
	f := morning(t)
	f.Expect(f.Says("owner", "missed"), "Nothing was left unclear lately.", "[")
	f.Knows = func(facts *chat.Facts) {
		facts.Ask.Phrases = func() chat.Phrases {
			return chat.Phrases{Missed: []chat.Missed{{Text: "thingy wobbles", Times: 3},
				{Text: "once only", Times: 1}}}
		}
	}
	f.Expect(f.Says("owner", "missed"), "3×  thingy wobbles|1×  once only|[“thingy wobbles”]",
		"[“once only”]")
	f.Expect(f.Taps("owner", "“thingy"), "“thingy wobbles”: what is meant by it here?|[Something else]|"+
		"[Nothing, ignore it]|[Back to the list]", "Robbery")
	f.Expect(f.Taps("owner", "Something else"), "“thingy wobbles”|[", "[Robbery")
	f.Expect(f.Says("owner", "missed"), "[“thingy wobbles”]", "")
	f.Taps("owner", "“thingy")
	f.Expect(f.Taps("owner", "Nothing, ignore"), "“thingy wobbles” is left out of the list",
		"[Something else]")
	if p := f.Last.Teach; p == nil || p.Text != "thingy wobbles" {
		t.Errorf("taught %+v", p)
	}
	for _, tap := range []string{"as.x", "as", "drop.1", "blue"} {
		b := chat.Button{Label: "?", Data: "o:missed:" + tap}
		f.Expect(f.Press("owner", b), "bot!> That button does not", "thingy")
		if f.Last.Teach != nil {
			t.Errorf("%s teaches %+v", tap, f.Last.Teach)
		}
	}
	f.Expect(f.Says("staff1", "missed"), "not part of your role", "thingy")
}
