package store_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// secretWord is a word of so many letters whose every piece can be told.
func secretWord(size int, where string) string {
	return strings.Repeat(fmt.Sprintf("Zq%s%dw", where, size), size)[:size]
}

// traces tells which words a piece of is still readable in files.
func traces(t *testing.T, words []string, names ...string) (found []string) {
	t.Helper()
	for _, name := range names {
		data, err := os.ReadFile(name)
		if os.IsNotExist(err) {
			continue
		}
		ok(t, err)
		for _, w := range words {
			if bytes.Contains(data, []byte(w[:20])) || bytes.Contains(data, []byte(w[len(w)-20:])) {
				found = append(found, fmt.Sprintf("%s of %d letters in %s", w[:6], len(w), filepath.Base(name)))
			}
		}
	}
	return found
}

// TestNothingIsLeftOfWhatWent: words of any length that stood in a name, in a draft, in a message and in what
// came in are in no file any more once they are gone there: not in the main one, the log, or a copy.
func TestNothingIsLeftOfWhatWent(t *testing.T) {
	db, path := open(t)
	newLedger(t, db).post(day()...)
	sizes := []int{50, 900, 1500, 4000}
	var words []string
	word := func(size int, where string) string {
		w := secretWord(size, where)
		words = append(words, w)
		return w
	}
	for round, size := range sizes {
		var handled int64
		var sent store.Message
		within(t, db, morning, func(tx *store.Tx) {
			sh, err := tx.Shop(1)
			ok(t, err)
			s := sh.Settings
			s.People[1].Name = word(size, "name")
			ok(t, tx.SaveSettings(1, s))
			form, err := json.Marshal(word(size, "draft"))
			ok(t, err)
			ok(t, tx.SaveState(owner, 1, chat.State{V: chat.StateFormat, Draft: chat.Draft{Form: form}}))
			r := chat.Reply{Body: []chat.Block{{Text: word(size, "outbox")}}}
			sent, err = tx.Enqueue(int64(1000+round), 0, owner, r)
			ok(t, err)
			handled, _, err = tx.Wait(store.Arrival{Source: "test", Key: fmt.Sprint(size), Chat: owner},
				store.Work{Input: chat.Input{Chat: owner, Text: word(size, "inbox")}}, 0)
			ok(t, err)
		})
		if len(traces(t, words[len(words)-4:], path, path+"-wal")) < 4 {
			t.Fatal("the words were never in the files: this looks in the wrong place")
		}
		within(t, db, morning, func(tx *store.Tx) {
			ok(t, tx.SaveState(owner, 1, chat.State{V: chat.StateFormat}))
			ok(t, tx.Sent(sent.ID, 1))
			ok(t, tx.Done(handled))
			sh, err := tx.Shop(1)
			ok(t, err)
			s := sh.Settings
			s.People[1].Name = "Ben"
			ok(t, tx.SaveSettings(1, s))
		})
	}
	within(t, db, morning, func(tx *store.Tx) { ok(t, tx.EraseName(1, 2)) })
	if done, err := db.Truncate(); err != nil || !done {
		t.Fatalf("log: %v %v", done, err)
	}
	backup := filepath.Join(t.TempDir(), "copy.db")
	_, err := plain(t, path).Exec("VACUUM INTO ?", backup)
	ok(t, err)
	if found := traces(t, words, path, path+"-wal", path+"-shm", backup); len(found) > 0 {
		t.Errorf("still readable: %v", found)
	}
}
