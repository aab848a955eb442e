package botapitest_test

import (
	"testing"
	"time"

	"shopfloat/internal/botapitest"
)

const (
	group      = -50
	supergroup = -1_000_000_000_050
)

func say(t *testing.T, srv *botapitest.Server, chat any) reply {
	t.Helper()
	return call(t, srv, "sendMessage", "chat_id", chat, "text", "hello")
}

// FACTS.md B: who can be written to.
func TestStates(t *testing.T) {
	for _, tt := range []struct {
		chat  int64
		state botapitest.State
		want  string
	}{
		{ann, botapitest.Active, ""},
		{ann, botapitest.Silent, "Forbidden: bot can't initiate conversation with a user"},
		{ann, botapitest.Blocked, "Forbidden: bot was blocked by the user"},
		{ann, botapitest.Deactivated, "Forbidden: user is deactivated"},
		{group, botapitest.Active, ""},
		{group, botapitest.Kicked, "Forbidden: bot was kicked from the group chat"},
		{supergroup, botapitest.Kicked, "Forbidden: bot was kicked from the supergroup chat"},
		{supergroup, botapitest.Left, "Forbidden: bot is not a member of the supergroup chat"},
		{group, botapitest.Gone, "Forbidden: the group chat was deleted"},
	} {
		srv := withAnn(t, botapitest.Options{})
		srv.AddGroup(group, "Shop")
		srv.AddGroup(supergroup, "Shop")
		srv.SetState(tt.chat, tt.state)
		want(t, tt.want, say(t, srv, tt.chat), tt.want)
		want(t, tt.want, call(t, srv, "sendChatAction", "chat_id", tt.chat, "action", "typing"), tt.want)
	}
}

// FACTS.md B: chat not found, chat_id is empty.
func TestUnknownChats(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	want(t, "unknown", say(t, srv, 2002), "Bad Request: chat not found")
	want(t, "name", say(t, srv, "@somebody"), "Bad Request: chat not found")
	want(t, "empty", say(t, srv, ""), "Bad Request: chat_id is empty")
	want(t, "absent", ask(t, srv, "sendMessage", `{"text":"x"}`), "Bad Request: chat_id is empty")
	srv.SendText(2002, "hello")
	want(t, "after writing", say(t, srv, 2002), "")
}

// Blocking and unblocking are told by my_chat_member; writing unblocks (FACTS.md B, 403).
func TestMembershipUpdates(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.SetState(ann, botapitest.Blocked)
	srv.SendText(ann, "I am back")
	type side struct{ Status string }
	got := decode[[]struct {
		Member struct {
			Old side `json:"old_chat_member"`
			New side `json:"new_chat_member"`
		} `json:"my_chat_member"`
		Message message
	}](t, ask(t, srv, "getUpdates", ""))
	if len(got) != 3 || got[0].Member.New.Status != "kicked" || got[1].Member.Old.Status != "kicked" ||
		got[1].Member.New.Status != "member" || got[2].Message.Text != "I am back" {
		t.Errorf("updates %+v", got)
	}
}

// FACTS.md B: a group that became a supergroup answers with the new id, and two messages tell of it.
func TestMigration(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.AddGroup(group, "Shop")
	srv.Migrate(group, supergroup)
	r := say(t, srv, group)
	want(t, "old id", r, "Bad Request: group chat was upgraded to a supergroup chat")
	if r.Parameters.MigratedTo != supergroup {
		t.Errorf("migrate_to_chat_id = %d", r.Parameters.MigratedTo)
	}
	want(t, "new id", say(t, srv, supergroup), "")
	got := decode[[]struct {
		Message struct {
			To   int64 `json:"migrate_to_chat_id"`
			From int64 `json:"migrate_from_chat_id"`
		}
	}](t, ask(t, srv, "getUpdates", ""))
	if len(got) != 2 || got[0].Message.To != supergroup || got[1].Message.From != group {
		t.Errorf("updates %+v", got)
	}
}

// Results have a message id and a date (FACTS.md E): ids rise by one in a chat, the date is the clock's.
func TestResults(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.SetNow(time.Unix(1_800_000_000, 0))
	for i := range 3 {
		m := send(t, srv, "text", "x")
		if m.ID != i+1 || m.Date != 1_800_000_000 || m.From.ID != srv.BotID() {
			t.Errorf("result %+v", m)
		}
	}
}

// FACTS.md B and C: replies.
func TestReplies(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	id := srv.SendText(ann, "question")
	present := map[string]any{"message_id": id}
	if m := send(t, srv, "text", "a", "reply_parameters", present); m.ReplyTo.ID != id {
		t.Errorf("reply to %+v", m.ReplyTo)
	}
	if m := send(t, srv, "text", "b", "reply_to_message_id", id); m.ReplyTo.ID != id {
		t.Errorf("old form: reply to %+v", m.ReplyTo)
	}
	missing := map[string]any{"message_id": 99}
	r := call(t, srv, "sendMessage", "chat_id", ann, "text", "c", "reply_parameters", missing)
	want(t, "missing", r, "Bad Request: message to be replied not found")
	missing["allow_sending_without_reply"] = true
	if m := send(t, srv, "text", "d", "reply_parameters", missing); m.ReplyTo.ID != 0 {
		t.Errorf("lenient: reply to %+v", m.ReplyTo)
	}
	r = call(t, srv, "sendMessage", "chat_id", ann, "text", "c", "reply_parameters", "x")
	want(t, "no object", r, "Bad Request: can't parse reply parameters JSON object")
}

func TestChatActions(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	const wrong = "Bad Request: wrong parameter action in request"
	texts := map[string]string{"typing": "", "upload_document": "", "": wrong, "yawning": wrong}
	for action, text := range texts {
		want(t, action, call(t, srv, "sendChatAction", "chat_id", ann, "action", action), text)
	}
}

// KeepMessages bounds memory: older messages are gone, ids go on.
func TestKeepMessages(t *testing.T) {
	srv := withAnn(t, botapitest.Options{KeepMessages: 2})
	for range 5 {
		send(t, srv, "text", "x")
	}
	got := srv.Messages(ann)
	if len(got) != 2 || got[0].ID != 4 || got[1].ID != 5 {
		t.Errorf("kept %+v", got)
	}
	for _, text := range []string{"a", "b", "c"} {
		want(t, text, call(t, srv, "editMessageText", "chat_id", ann, "message_id", 5, "text", text), "")
	}
	if m := srv.Messages(ann)[1]; len(m.Edits) != 2 || m.Edits[0].Text != "a" || m.Text != "c" {
		t.Errorf("versions kept %+v", m)
	}
}
