package engine_test

import (
	"testing"

	"shopfloat/internal/access"
	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/dialogs/engine"
	"shopfloat/internal/dialogs/floor"
)

// tapped is a made-up card that stands by itself and says what was tapped.
func tapped() engine.Standing {
	return engine.Standing{Name: engine.DoSay, Rights: engine.May(access.Managing, engine.AnyPhone,
		engine.OnceSetUp),
		Tap: func(c *engine.Talk, arg string) { c.Say("tapped " + arg) }}
}

func card(data string) chat.Button { return chat.Button{Label: data, Data: data} }

// A card that stands by itself is answered by itself, for those it is for, at
// the machine that it names; a card from before machines were named has none.
func TestStandingCards(t *testing.T) {
	f := floor.New(t, floor.Of(tapped(), twoScreens()))
	for _, x := range []struct{ who, data, want string }{
		{"owner", "o:say:5.now", "bot> tapped 5.now\n"},
		{"owner", "o:say:5.now:1", "bot> tapped 5.now\n"},
		{"owner", "o:say:5.now:2", "bot!> That belongs to another machine. Write switch first.\n"},
		{"staff1", "o:say:5.now:1", "bot!> That is not part of your role here.\n"},
		{"owner", "o:cancel:1", "bot!> That button does not work any more. Nothing was booked.\n"},
	} {
		if got := f.Press(x.who, card(x.data)); got != x.want {
			t.Errorf("%s taps %s: %q, want %q", x.who, x.data, got, x.want)
		}
	}
}

// A dialog under way at another machine is to be finished before a card of this
// one is answered.
func TestStandingCardWithinADialogElsewhere(t *testing.T) {
	f := floor.New(t, floor.Of(tapped(), twoScreens()))
	f.Says("owner", "move")
	expect(t, f.Press("owner", card("o:say:1")), "tapped 1", "finish")
	secondMachine(f)
	f.Machine = books.New(2)
	if got := f.Press("owner", card("o:say:1:2")); got != "bot!> Please finish moving notes first.\n" {
		t.Errorf("said %q", got)
	}
	f.Machine = books.New(1)
	f.Says("owner", "cancel")
	f.Machine = books.New(2)
	expect(t, f.Press("owner", card("o:say:1:2")), "tapped 1", "finish")
}

// A card may belong to a dialog; then it has the rights of that, unless it says
// otherwise, and so have commands.
func TestRightsOfADialogsOwn(t *testing.T) {
	flow := twoScreens()
	own := tapped()
	own.Rights = engine.Rights{}
	flow.Cards = []engine.Standing{own}
	only := tells(engine.DoFloat, "told")
	only.Rights = engine.Rights{Role: access.Owning}
	flow.Commands = append(flow.Commands, only)
	e := floor.New(t, floor.Of(flow)).Engine
	if got := e.RightsOf(engine.DoSay); got != flow.Rights {
		t.Errorf("the card has %v, the dialog %v", got, flow.Rights)
	}
	if got := e.RightsOf(engine.DoFloat); got != engine.May(access.Owning, engine.AnyPhone, engine.OnceSetUp) {
		t.Errorf("the command has %v", got)
	}
	if cards := e.Cards(); len(cards) != 1 || cards[0].Name != engine.DoSay {
		t.Errorf("cards %v", cards)
	}
	if list := e.Commands(); list[0].Name != engine.DoMove || list[1].Name != engine.DoFloat {
		t.Errorf("commands %v", list)
	}
}
