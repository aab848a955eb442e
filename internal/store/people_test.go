package store_test

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/access"
	"shopfloat/internal/chat"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// within runs fn in a transaction of its own.
func within(t testing.TB, db *store.DB, at time.Time, fn func(*store.Tx)) {
	t.Helper()
	tx, err := db.Begin(at)
	ok(t, err)
	fn(tx)
	ok(t, tx.Commit())
}

// A name is in no version of the settings. Erased, it is nowhere in the file,
// the chains still verify and a later version does not bring it back.
func TestEraseName(t *testing.T) {
	const name = "Zacharias"
	db, path := open(t)
	newLedger(t, db).post(day()...)
	within(t, db, morning, func(tx *store.Tx) {
		sh, err := tx.Shop(1)
		ok(t, err)
		s := sh.Settings
		s.People[1].Name = name
		ok(t, tx.SaveSettings(1, s))
		if again, err := tx.Shop(1); err != nil || again.People[1].Name != name ||
			again.People[0].Name != "Ada" {
			t.Errorf("the names do not come back: %+v, %v", again.People, err)
		}
	})
	var bodies string
	ok(t, plain(t, path).QueryRow("SELECT group_concat(body) FROM settings").Scan(&bodies))
	if strings.Contains(bodies, name) || strings.Contains(bodies, "Ada") {
		t.Error("a name stands in the settings, which are never changed")
	}
	within(t, db, morning, func(tx *store.Tx) { ok(t, tx.EraseName(1, 2)) })
	within(t, db, morning, func(tx *store.Tx) {
		sh, err := tx.Shop(1)
		ok(t, err)
		s := sh.Settings
		if s.People[1].Name != "" {
			t.Errorf("the name is still %q", s.People[1].Name)
		}
		s.People[1].Name = name // whoever still had it at hand
		ok(t, tx.SaveSettings(1, s))
		if sh, err = tx.Shop(1); err != nil || sh.People[1].Name != "" {
			t.Errorf("the name came back: %q, %v", sh.People[1].Name, err)
		}
	})
	for _, rep := range verify(t, path) {
		if len(rep.Faults) > 0 {
			t.Errorf("after erasing: %v", rep.Faults)
		}
	}
	if done, err := db.Truncate(); err != nil || !done {
		t.Fatalf("log: %v %v", done, err)
	}
	for _, file := range []string{path, path + "-wal"} {
		data, err := os.ReadFile(file)
		if err == nil && bytes.Contains(data, []byte(name)) {
			t.Errorf("%s still holds the name", file)
		}
	}
}

func TestCodes(t *testing.T) {
	db, path := open(t)
	const secret = "c0de-that-nobody-may-read"
	hash := access.HashCode(secret)
	code := store.Code{
		Hash:    hash,
		Shop:    1,
		Role:    shop.Staff,
		Name:    "Max",
		By:      1,
		Expires: morning.Add(time.Hour),
	}
	within(t, db, morning, func(tx *store.Tx) {
		ok(t, tx.AddCode(code))
		if got, err := tx.Code(hash); err != nil || got.Used || got.Revoked || got.Name != "Max" ||
			!got.Expires.Equal(code.Expires) {
			t.Errorf("%+v, %v", got, err)
		}
		if _, err := tx.Code(access.HashCode("another")); !errors.Is(err, store.ErrNone) {
			t.Errorf("another code: %v", err)
		}
		ok(t, tx.UseCode(hash))
		if got, err := tx.Code(hash); err != nil || !got.Used {
			t.Errorf("used: %+v, %v", got, err)
		}
		other := code
		other.Hash = access.HashCode("two")
		ok(t, tx.AddCode(other))
		ok(t, tx.RevokeCodes(1, 1))
		if got, err := tx.Code(other.Hash); err != nil || !got.Revoked {
			t.Errorf("revoked: %+v, %v", got, err)
		}
		if got, err := tx.Code(hash); err != nil || !got.Used || got.Revoked {
			t.Errorf("a used code was taken back: %+v, %v", got, err)
		}
	})
	later := morning.Add(40 * 24 * time.Hour)
	within(t, db, later, func(tx *store.Tx) {
		fresh := code
		fresh.Hash = access.HashCode("three")
		ok(t, tx.AddCode(fresh))
		if _, err := tx.Code(hash); !errors.Is(err, store.ErrNone) {
			t.Errorf("a code long past is still known: %v", err)
		}
	})
	data, err := os.ReadFile(path)
	ok(t, err)
	if bytes.Contains(data, []byte(secret)) {
		t.Error("the code itself is in the file")
	}
}

func TestAttempts(t *testing.T) {
	db, _ := open(t)
	count := func(at time.Time) (n int64) {
		within(t, db, at, func(tx *store.Tx) {
			ok(t, tx.CountAttempt("x", time.Hour))
			var err error
			n, err = tx.Attempts("x", time.Hour)
			ok(t, err)
		})
		return n
	}
	if a, b := count(morning), count(morning.Add(time.Minute)); a != 1 || b != 2 {
		t.Errorf("%d, %d", a, b)
	}
	if n := count(morning.Add(time.Hour)); n != 1 {
		t.Errorf("after the span: %d", n)
	}
	within(t, db, morning.Add(time.Hour), func(tx *store.Tx) {
		ok(t, tx.ForgetAttempts("x"))
		if n, err := tx.Attempts("x", time.Hour); n != 0 || err != nil {
			t.Errorf("forgotten: %d, %v", n, err)
		}
	})
}

// One chat with two shops: the one turned to is talked about; a frozen or
// removed account is a stranger there and stays in the other.
func TestAccountsOfSeveralShops(t *testing.T) {
	db, _ := open(t)
	_, err := db.AddShops(morning, []store.NewShop{{Settings: shop.Example()}})
	ok(t, err)
	within(t, db, morning, func(tx *store.Tx) {
		at := func(want shop.ID, several bool) {
			t.Helper()
			if a, err := tx.Account(owner); err != nil || a.Shop != want || a.Several != several {
				t.Errorf("%+v, %v, want shop %d", a, err, want)
			}
		}
		at(1, false)
		ok(t, tx.Join(owner, 2, 1))
		at(2, true)
		ok(t, tx.Turn(owner, 1))
		at(1, true)
		ok(t, tx.Freeze(1, 1, true))
		at(2, false)
		if team, err := tx.Team(1); err != nil || len(team) != 2 {
			t.Errorf("a frozen phone is told things: %v, %v", team, err)
		}
		ok(t, tx.Freeze(1, 1, false))
		ok(t, tx.Leave(2, 1))
		at(1, false)
		ok(t, tx.Leave(1, 1))
		if _, err := tx.Account(owner); !errors.Is(err, store.ErrNone) {
			t.Errorf("after leaving: %v", err)
		}
		ok(t, tx.Share("term:staff1", 1, true))
		if a, err := tx.Account("term:staff1"); err != nil || !a.Shared {
			t.Errorf("shared: %+v, %v", a, err)
		}
	})
}

// CutOff ends a dialog and drops what waits, once and for all.
func TestCutOff(t *testing.T) {
	db, _ := open(t)
	within(t, db, morning, func(tx *store.Tx) {
		_, err := tx.Enqueue(1, 0, owner, chat.Reply{Body: []chat.Block{{Text: "hello"}}})
		ok(t, err)
		ok(
			t,
			tx.SaveState(owner, 1, chat.State{V: chat.StateFormat, Flow: "open", Works: true, Machine: 1, Rev: 4}),
		)
		rows, err := tx.CutOff(owner)
		ok(t, err)
		if s, err := tx.State(owner); err != nil || s.Flow != "" || s.Rev != 5 || len(rows) != 1 {
			t.Errorf("%+v, %v, %v", s, rows, err)
		}
		if left, err := tx.Unsent(); err != nil || len(left) != 0 {
			t.Errorf("still to be sent: %v, %v", left, err)
		}
	})
}
