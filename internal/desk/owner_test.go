package desk_test

import (
	"context"
	"testing"

	"shopfloat/internal/chat"
)

// counter is a screen for the chats of one person.
type counter struct {
	*screen
	chat chat.Chat
}

func (c counter) Owns(where chat.Chat) bool { return where == c.chat }

// Whoever sends only for some chats leaves the messages of the others for
// whoever sends those, also after a restart.
func TestFlushLeavesOtherChatsAlone(t *testing.T) {
	o := newOffice(t)
	own := counter{&o.screen, owner}
	o.take(o.raw(staff1, "hello"), o.raw(owner, "morning"), o.raw(staff1, "tell all"))
	ok(t, o.desk.Flush(context.Background(), own))
	o.wantShown("term:owner morning!", "term:owner managers all")
	ok(t, o.desk.Flush(context.Background(), own))
	o.wantShown()
	if n := o.ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL AND chat <> 'term:owner'"); n == "0" {
		t.Error("nothing is left for the others")
	}
	o.restart()
	o.flush()
	o.wantShown("term:staff1 hello!", "term:staff2 person all", "term:staff1 tell all!")
}
