package botapitest_test

import (
	"testing"
	"time"

	"shopfloat/internal/botapitest"
)

const notModified = "Bad Request: message is not modified: specified new message content and reply markup " +
	"are exactly the same as a current content and reply markup of the message"

func edit(t *testing.T, srv *botapitest.Server, id int, pairs ...any) reply {
	t.Helper()
	return call(t, srv, "editMessageText", append([]any{"chat_id", ann, "message_id", id}, pairs...)...)
}

// FACTS.md B and E: not modified looks at text, entities and buttons; an edit without markup removes
// buttons.
func TestEditInPlace(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	m := send(t, srv, "text", "<b>a</b>", "parse_mode", "HTML", "reply_markup", row("Yes"))
	const noKeyboard = `{"inline_keyboard":[]}`
	for _, tt := range []struct {
		name  string
		pairs []any
		want  string
	}{
		{"same", []any{"text", "<b>a</b> ", "parse_mode", "HTML", "reply_markup", row("Yes")}, notModified},
		{"entities differ", []any{"text", "a", "reply_markup", row("Yes")}, ""},
		{"buttons differ", []any{"text", "a", "reply_markup", row("Yes", "No")}, ""},
		{"buttons go", []any{"text", "a"}, ""},
		{"empty keyboard is none", []any{"text", "a", "reply_markup", noKeyboard}, notModified},
		{"text differs", []any{"text", "b"}, ""},
		{"reply keyboard", []any{"text", "c", "reply_markup", `{"keyboard":[["x"]]}`},
			"Bad Request: inline keyboard expected"},
		{"empty text", []any{"text", ""}, "Bad Request: message text is empty"},
	} {
		want(t, tt.name, edit(t, srv, m.ID, tt.pairs...), tt.want)
	}
	got := srv.Messages(ann)[0]
	if got.Text != "b" || len(got.Buttons) != 0 || len(got.Edits) != 4 || got.Edits[0].Text != "a" ||
		len(got.Edits[2].Buttons[0]) != 2 || got.EditDate == 0 {
		t.Errorf("chat shows %+v", got)
	}
}

// FACTS.md A: who may be edited; B: the refusals.
func TestWhatCanBeEdited(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	theirs := srv.SendText(ann, "hello")
	gone := send(t, srv, "text", "x").ID
	srv.Erase(ann, gone)
	document := decode[message](t, upload(t, srv, "sendDocument", "document", "a.txt", "x", nil)).ID
	old := send(t, srv, "text", "old").ID
	srv.SetNow(srv.Now().Add(1000 * time.Hour))
	want(t, "theirs", edit(t, srv, theirs, "text", "y"), "Bad Request: message can't be edited")
	want(t, "gone", edit(t, srv, gone, "text", "y"), "Bad Request: message to edit not found")
	want(t, "never was", edit(t, srv, 99, "text", "y"), "Bad Request: message to edit not found")
	want(t, "document", edit(t, srv, document, "text", "y"),
		"Bad Request: there is no text in the message to edit")
	want(t, "no age limit", edit(t, srv, old, "text", "y"), "")
	r := call(t, srv, "editMessageText", "chat_id", ann, "text", "y")
	want(t, "no id", r, "Bad Request: message identifier is not specified")
	caption := params(t, "chat_id", ann, "message_id", document, "caption", "new")
	want(t, "caption", ask(t, srv, "editMessageCaption", caption), "")
	want(t, "same caption", ask(t, srv, "editMessageCaption", caption), notModified)
	r = call(t, srv, "editMessageCaption", "chat_id", ann, "message_id", old, "caption", "new")
	want(t, "caption of a text", r, "Bad Request: there is no caption in the message to edit")
}

func TestEditButtonsOnly(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	m := send(t, srv, "text", "x", "reply_markup", row("Yes"))
	buttons := func(markup any) reply {
		return call(t, srv, "editMessageReplyMarkup",
			"chat_id", ann, "message_id", m.ID, "reply_markup", markup)
	}
	want(t, "same", buttons(row("Yes")), notModified)
	want(t, "other", buttons(row("No")), "")
	want(t, "menu", buttons(`{"remove_keyboard":true}`), "Bad Request: inline keyboard expected")
	want(t, "none", call(t, srv, "editMessageReplyMarkup", "chat_id", ann, "message_id", m.ID), "")
	if got := srv.Messages(ann)[0]; got.Text != "x" || len(got.Buttons) != 0 {
		t.Errorf("chat shows %+v", got)
	}
}

// FACTS.md A: 48 h for deleting; B: the refusals.
func TestDelete(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.AddGroup(group, "Shop")
	began := srv.Now()
	del := func(chat int64, id int) reply {
		return call(t, srv, "deleteMessage", "chat_id", chat, "message_id", id)
	}
	first, second := send(t, srv, "text", "x").ID, send(t, srv, "text", "y").ID
	theirs, inGroup := srv.SendText(ann, "hello"), srv.SendTextIn(group, ann, "hello")
	want(t, "own", del(ann, first), "")
	want(t, "again", del(ann, first), "Bad Request: message to delete not found")
	want(t, "theirs in private", del(ann, theirs), "")
	want(t, "theirs in a group", del(group, inGroup), "Bad Request: message can't be deleted")
	srv.SetNow(began.Add(48*time.Hour + time.Second))
	want(t, "too old", del(ann, second), "Bad Request: message can't be deleted for everyone")
	if got := srv.Messages(ann); len(got) != 1 || got[0].ID != second {
		t.Errorf("chat shows %+v", got)
	}
}

// A person's edit comes as edited_message; only an own message can be edited.
func TestPersonEdits(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	id := srv.SendText(ann, "40 150")
	if err := srv.EditText(ann, id, "40 160"); err != nil {
		t.Fatal(err)
	}
	got := decode[[]struct {
		Edited message `json:"edited_message"`
	}](t, ask(t, srv, "getUpdates", ""))
	if len(got) != 2 {
		t.Fatalf("updates %+v", got)
	}
	if m := got[1].Edited; m.Text != "40 160" || m.EditDate == 0 || m.ID != id {
		t.Errorf("edited message %+v", m)
	}
	if err := srv.EditText(ann, send(t, srv, "text", "x").ID, "y"); err == nil {
		t.Error("edited a message of the bot")
	}
}
