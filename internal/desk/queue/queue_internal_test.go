package queue

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/checks"
	"shopfloat/internal/store"
)

var sixAM = time.Date(2026, 1, 5, 6, 0, 0, 0, time.UTC)

func message(id int64, where chat.Chat, text string) store.Message {
	return store.Message{ID: id, Chat: where, At: sixAM, Reply: chat.Reply{Body: []chat.Block{{Text: text}}}}
}

// sent lets a queue send for so long and gives what goes out, with its instant.
type sent struct {
	store.Message
	at time.Duration
}

func (q *Queue) sends(for_ time.Duration, p Pace) (list []sent) {
	for now := sixAM; now.Sub(sixAM) < for_; {
		m, rows, wait := q.Take(now, p)
		if rows == nil {
			if wait == 0 {
				return list
			}
			now = now.Add(wait)
			continue
		}
		list = append(list, sent{m, now.Sub(sixAM)})
		q.Settle(m.Chat, rows, m.ID, 0, now)
	}
	return list
}

// A robbery that is reported while sixty cards wait for the same chat is told
// at once, to that chat and to every other.
func TestUrgentFirst(t *testing.T) {
	q := New()
	var cards []store.Message
	for n := range int64(60) {
		text := fmt.Sprint("card ", n)
		cards = append(cards, message(n+1, "tg:1", text), message(100+n, "tg:2", text))
	}
	q.Add(cards)
	if early := q.sends(3*time.Second, Pace{Rate: 30}); len(early) < 10 {
		t.Fatalf("only %d cards went out", len(early))
	}
	alarm := []store.Message{message(900, "tg:1", "robbery"), message(901, "tg:2", "robbery")}
	for i := range alarm {
		alarm[i].Reply.Urgent = true
	}
	q.Add(alarm)
	rest := q.sends(time.Hour, Pace{Rate: 30})
	for i, want := range []int64{900, 901} {
		if rest[i].ID != want || rest[i].at > 4*time.Second {
			t.Errorf("message %d goes out at %d after %v", rest[i].ID, i, rest[i].at)
		}
	}
}

// Three hundred strangers do not keep a member waiting, and get a few answers a second.
func TestMembersBeforeStrangers(t *testing.T) {
	q := New()
	for n := range int64(300) {
		m := message(n+1, chat.Chat(fmt.Sprint("tg:", 1000+n)), "sorry")
		m.Reply.Stranger = true
		q.Add([]store.Message{m})
	}
	q.Add([]store.Message{message(999, "tg:1", "next question")})
	list := q.sends(10*time.Second, Pace{Rate: 30})
	if list[0].ID != 999 || list[0].at > 0 {
		t.Errorf("the member's message goes out after %v, behind %d others", list[0].at, len(list))
	}
	if n := len(list) - 1; n < 25 || n > 32 {
		t.Errorf("%d strangers answered in 10 s", n)
	}
}

// A burst of taps on one old button costs one card.
func TestRedrawsMerge(t *testing.T) {
	q := New()
	var list []store.Message
	for n := range int64(60) {
		m := message(n+2, "tg:1", "Back to the opening.")
		m.Retires = n + 1
		m.Reply.Buttons = [][]chat.Button{{{Label: "Confirm", Data: fmt.Sprint("d:", n, ":yes")}}}
		list = append(list, m)
	}
	q.Add(list)
	out := q.sends(time.Hour, Pace{Rate: 30})
	if len(out) != 1 || out[0].Retires != 1 || out[0].Reply.Buttons[0][0].Data != "d:59:yes" {
		t.Fatalf("%d messages go out, the first %+v", len(out), out[0])
	}
	if n := len(q.Receipts()); n != 60 {
		t.Errorf("%d of 60 rows are done with", n)
	}
	for _, r := range q.Receipts() {
		if r.MessageID != out[0].ID {
			t.Errorf("row %d became message %d", r.Row, r.MessageID)
		}
	}
}

// Cards that differ, or that something stands between, are not merged.
func TestOtherCardsStay(t *testing.T) {
	card := func(id, retires int64, text string) store.Message {
		m := message(id, "tg:1", text)
		m.Retires = retires
		return m
	}
	for name, list := range map[string][]store.Message{
		"another question":  {card(1, 0, "top box?"), card(2, 1, "middle box?")},
		"words in between":  {card(1, 0, "top box?"), message(2, "tg:1", "Shut the door."), card(3, 1, "top box?")},
		"not about the one": {card(1, 0, "top box?"), card(2, 0, "top box?")},
	} {
		q := New()
		q.Add(list)
		if out := q.sends(time.Hour, Pace{Rate: 30}); len(out) != len(list) {
			t.Errorf("%s: %d of %d go out", name, len(out), len(list))
		}
	}
}

// Whatever happens, each row is done with once, in each chat in order but for
// what is urgent, and nothing urgent goes out behind what is not.
func TestQueueLosesNothing(t *testing.T) {
	for seed := range uint64(checks.Size(t, 200, 3_000, 100_000)) {
		if fault := queuePlay(rand.New(rand.NewPCG(seed, 3))); fault != "" {
			t.Fatalf("seed %d: %s", seed, fault)
		}
	}
}

func queuePlay(r *rand.Rand) string {
	q, now, put := New(), sixAM, map[int64]bool{}
	done, last := map[int64]bool{}, map[chat.Chat]int64{}
	for id := int64(1); id < 120 || len(done) < len(put); id++ {
		if id < 120 {
			m := message(id, chat.Chat(fmt.Sprint("tg:", r.IntN(5))), "card")
			m.Reply.Urgent = r.IntN(8) == 0
			m.Reply.Stranger = m.Chat == "tg:4"
			put[id] = m.Reply.Urgent
			q.Add([]store.Message{m})
		}
		m, rows, wait := q.Take(now, Pace{Rate: 30})
		if rows == nil {
			now = now.Add(wait)
			continue
		}
		if r.IntN(4) == 0 { // a message that comes while another is on its way
			id++
			more := message(id, m.Chat, "more")
			more.Reply.Urgent = r.IntN(2) == 0
			put[id] = more.Reply.Urgent
			q.Add([]store.Message{more})
		}
		if r.IntN(3) == 0 {
			q.Settle(m.Chat, nil, 0, time.Duration(r.IntN(3))*time.Second, now)
			continue
		}
		for _, row := range rows {
			if done[row] {
				return fmt.Sprint("sent twice: ", row)
			}
			done[row] = true
		}
		if !put[m.ID] {
			if m.ID < last[m.Chat] {
				return fmt.Sprint("out of order: ", m.ID, " after ", last[m.Chat])
			}
			last[m.Chat] = m.ID
		}
		q.Settle(m.Chat, rows, m.ID, 0, now)
		if l := q.lines[m.Chat]; l != nil && !ordered(l.rows) {
			return "urgent behind other messages"
		}
	}
	return ""
}

func ordered(rows []store.Message) bool {
	return slices.IsSortedFunc(rows, func(a, b store.Message) int {
		return int(min(rankOf(a), toMember)) - int(min(rankOf(b), toMember))
	})
}
