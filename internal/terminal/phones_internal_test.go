package terminal

import (
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
)

const owner chat.Chat = "term:owner"

// card is a message with buttons. It replaces message edits, 0 for none.
func card(edits int64, labels ...string) desk.Out {
	out := desk.Out{Chat: owner, MessageID: edits}
	for _, l := range labels {
		out.Reply.Buttons = append(out.Reply.Buttons, []chat.Button{{Label: l, Data: l + ".1"}})
	}
	return out
}

func show(t *testing.T, p *Phones, out desk.Out) int64 {
	t.Helper()
	number, ok := p.show(out)
	if !ok {
		t.Fatalf("message %d is not on the screen", out.MessageID)
	}
	return number
}

func wantButton(t *testing.T, p *Phones, label string, dead bool, want string) {
	t.Helper()
	got, ok := p.find(owner, label, dead)
	if ok != (want != "") || got.Data != want {
		t.Errorf("find %q (dead: %t) = %q, %t; want %q", label, dead, got.Data, ok, want)
	}
}

func TestFindNewestBeginning(t *testing.T) {
	p := NewPhones(0)
	show(t, p, card(0, "Confirm", "Cancel"))
	show(t, p, card(0, "Yes, steady", "No lights", "No", "Cannot tell"))
	wantButton(t, p, "conf", false, "Confirm.1")
	wantButton(t, p, "C", false, "Cannot tell.1")
	wantButton(t, p, "no", false, "No.1") // the full label before a longer one above it
	wantButton(t, p, "no ", false, "No lights.1")
	wantButton(t, p, "y", false, "Yes, steady.1")
	wantButton(t, p, "maybe", false, "")
	wantButton(t, p, "confirm", true, "") // nothing was replaced yet
}

func TestFindAfterEdit(t *testing.T) {
	p := NewPhones(0)
	first := show(t, p, card(0, "Confirm", "Change"))
	show(t, p, card(first, "All done", "Change"))
	wantButton(t, p, "confirm", false, "")
	wantButton(t, p, "confirm", true, "Confirm.1")
	wantButton(t, p, "change", false, "Change.1")
	wantButton(t, p, "change", true, "") // it stayed: never replaced
	show(t, p, card(first))
	wantButton(t, p, "all", false, "")
	wantButton(t, p, "all", true, "All done.1")
	wantButton(t, p, "c", true, "Change.1") // the one shown last of those dead
}

func TestFindAfterRetire(t *testing.T) {
	p := NewPhones(0)
	next := card(0, "Yes")
	next.Retired = show(t, p, card(0, "Confirm"))
	show(t, p, next)
	wantButton(t, p, "confirm", false, "")
	wantButton(t, p, "confirm", true, "Confirm.1")
	wantButton(t, p, "yes", false, "Yes.1")
}

func TestShowErrUnknownMessage(t *testing.T) {
	p := NewPhones(100)
	if _, ok := p.show(card(7, "Confirm")); ok {
		t.Error("an edit of a message from another run was shown")
	}
	if number := show(t, p, card(0, "Confirm")); number != 101 {
		t.Errorf("first message is number %d, want 101", number)
	}
}

func TestLabelsOfNewestCard(t *testing.T) {
	p := NewPhones(0)
	show(t, p, card(0, "Confirm"))
	show(t, p, card(0, "Yes", "No"))
	if got := p.labels(owner); len(got) != 2 || got[0] != "Yes" || got[1] != "No" {
		t.Errorf("labels %q, want Yes and No", got)
	}
}
