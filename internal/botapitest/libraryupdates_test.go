package botapitest_test

import (
	"encoding/json"
	"testing"

	"github.com/go-telegram/bot/models"

	"shopfloat/internal/botapitest"
)

// Every ordinary update decodes with the library's models, and so does an unknown kind; the unknown subtype
// does not, which is the point of it (FACTS.md D1, 7).
func TestLibraryDecodesUpdates(t *testing.T) {
	srv := withAnn(t, botapitest.Options{})
	srv.AddGroup(group, "Shop")
	card := send(t, srv, "text", "card", "reply_markup", row("Yes")).ID
	id := srv.SendText(ann, "/open 40")
	if err := srv.EditText(ann, id, "/open 50"); err != nil {
		t.Fatal(err)
	}
	srv.SendPhoto(ann, []byte("slip"), "slip")
	srv.SendReply(ann, card, "yes")
	srv.TapData(ann, ann, card, "Yes")
	srv.TapData(ann, ann, 99, "Yes")
	srv.SetState(ann, botapitest.Blocked)
	srv.SendTextIn(group, ann, "hello all")
	srv.SetState(group, botapitest.Kicked)
	srv.Migrate(group, supergroup)
	srv.InjectUnknownKind()

	var all []*models.Update
	if err := json.Unmarshal(ask(t, srv, "getUpdates", "").Result, &all); err != nil || len(all) != 12 {
		t.Fatalf("%d updates, %v", len(all), err)
	}
	if m := all[0].Message; m.Text != "/open 40" || m.Entities[0].Type != models.MessageEntityTypeBotCommand {
		t.Errorf("text %+v", m)
	}
	if q := all[4].CallbackQuery; q.Data != "Yes" || q.Message.Message.ID != card {
		t.Errorf("tap %+v", q)
	}
	if gone := all[5].CallbackQuery.Message.InaccessibleMessage; gone == nil || gone.Date != 0 {
		t.Errorf("tap on a message that is gone %+v", gone)
	}
	if m := all[6].MyChatMember; m.NewChatMember.Type != models.ChatMemberTypeBanned {
		t.Errorf("membership %+v", m)
	}

	if err := srv.SendForward(ann, card); err != nil {
		t.Fatal(err)
	}
	if err := srv.SendForward(ann, id); err == nil {
		t.Error("a message of her own was forwarded as the bot's")
	}
	all = nil
	if err := json.Unmarshal(ask(t, srv, "getUpdates", `{"offset":-1}`).Result, &all); err != nil {
		t.Fatal(err)
	}
	m := all[0].Message
	if o := m.ForwardOrigin.MessageOriginUser; m.Text != "card" || o == nil || !o.SenderUser.IsBot {
		t.Errorf("forward %+v", m)
	}

	srv.InjectUnknownSubtype(ann)
	if err := json.Unmarshal(ask(t, srv, "getUpdates", `{"offset":-1}`).Result, &all); err == nil {
		t.Error("the library knows the subtype by now")
	}
}
