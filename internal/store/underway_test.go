package store_test

import (
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
)

// The dialogs under way at a machine, as they are at hand and as they are read
// from the file, are those of the states kept last: begun, gone on with, turned
// to another machine, to another person or blind, ended.
func TestUnderway(t *testing.T) {
	db, _ := open(t)
	chance := rand.New(rand.NewPCG(1, 2))
	chats := []chat.Chat{"term:a", "term:b", "term:c"}
	model := map[chat.Chat]chat.Activity{}
	same := 0
	for step := range 1000 {
		tx, err := db.Begin(morning)
		ok(t, err)
		where, person := chats[chance.IntN(3)], shop.PersonID(1+chance.IntN(2))
		s := chat.State{
			V: chat.StateFormat, Rev: step, Machine: shop.MachineID(1 + chance.IntN(2)), Works: chance.IntN(4) > 0,
			Draft: chat.Draft{Period: int64(chance.IntN(2))},
			Blind: chance.IntN(3) == 0, Since: morning.Add(time.Duration(chance.IntN(2)) * 1_500_000),
		}
		if s.Works {
			s.Flow = []string{"open", "close"}[chance.IntN(2)]
		}
		ok(t, tx.SaveState(where, person, s))
		before := model[where]
		delete(model, where)
		if s.Works {
			model[where] = chat.Activity{Chat: where, Person: person, Machine: s.Machine, Flow: s.Flow, Blind: s.Blind,
				Period: s.Draft.Period, Since: s.Since.UTC().Truncate(time.Millisecond), Began: s.Since.UTC()}
		}
		if s.Works && before == model[where] {
			same++
		}
		for id := shop.MachineID(0); id <= 2; id++ { // no dialog is at machine 0
			var want []chat.Activity
			for _, c := range chats {
				if a, under := model[c]; under && a.Machine == id {
					want = append(want, a)
				}
			}
			got, err := tx.Underway(id, "term:x")
			ok(t, err)
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("step %d: at machine %d\n%v\nwant\n%v", step, id, got, want)
			}
		}
		ok(t, tx.Commit())
		if chance.IntN(5) == 0 { // what is at hand is forgotten
			tx, err := db.Begin(morning)
			ok(t, err)
			tx.Rollback()
		}
	}
	if same < 5 {
		t.Errorf("%d times the same dialog went on", same)
	}
}
