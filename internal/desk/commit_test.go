package desk_test

import (
	"context"
	"fmt"
	"sync"
	"testing"

	"shopfloat/internal/checks"
	"shopfloat/internal/desk"
	"shopfloat/internal/store"
)

// A Take is one commit, whatever it brings, and takes the receipts along.
func TestOneCommitATake(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "hi") // from here on what comes in is handled as it is stored
	for _, n := range []int{1, 8, 50} {
		var raws []desk.Raw
		for i := range n {
			chat := []dialogsChat{owner, staff1, staff2}[i%3]
			raws = append(raws, o.raw(chat, []string{"hi", "card x", "edit y"}[i%3]))
		}
		before := commits(t, o.path)
		o.take(raws...)
		if got := commits(t, o.path) - before; got != 1 {
			t.Errorf("%d inputs took %d commits", n, got)
		}
		o.flush()
		if got := commits(t, o.path) - before; got != 2 {
			t.Errorf("%d inputs and their receipts took %d commits", n, got)
		}
	}
	before := commits(t, o.path)
	o.flush()
	ok(t, o.desk.Tick(context.Background()))
	if got := commits(t, o.path) - before; got != 0 {
		t.Errorf("nothing took %d commits", got)
	}
}

// holdCommit holds the next commit, once it has begun, until goOn is closed.
func (o *office) holdCommit() (began <-chan struct{}, goOn chan<- struct{}) {
	begins, ends := make(chan struct{}), make(chan struct{})
	var once sync.Once
	o.db.Interpose(func(query string) error {
		if query == "COMMIT" {
			once.Do(func() { close(begins); <-ends })
		}
		return nil
	})
	return begins, ends
}

// Callers that wait while somebody commits share the next commit.
func TestGroupCommit(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "hi")
	const callers = 20
	began, goOn := o.holdCommit()
	before := commits(t, o.path)
	first := o.raw(owner, "hi")
	var all sync.WaitGroup
	all.Go(func() { o.take(first) })
	<-began
	waiting := make(chan struct{}, callers)
	for range callers {
		raw := o.raw(owner, "hi")
		all.Go(func() {
			waiting <- struct{}{}
			o.take(raw)
		})
	}
	for range callers {
		<-waiting
	}
	for o.desk.Waiting() < callers {
	}
	close(goOn)
	all.Wait()
	if got := commits(t, o.path) - before; got != 2 {
		t.Errorf("%d callers took %d commits", callers+1, got)
	}
	if s := o.state(owner); s.Rev != callers+2 {
		t.Errorf("heard %d times", s.Rev)
	}
}

// What else is written in the same go fails by itself: inputs that came with it
// have taken effect.
func TestPictureFailsAlone(t *testing.T) {
	o := newOffice(t)
	o.say(owner, "hi")
	began, goOn := o.holdCommit()
	first, second := o.raw(owner, "hi"), o.raw(owner, "hi")
	var all sync.WaitGroup
	all.Go(func() { o.take(first) })
	<-began
	var err error
	all.Go(func() { err = o.desk.KeepPicture(t.Context(), store.Picture{Machine: 1, Seq: 9}, nil) })
	all.Go(func() { o.take(second) })
	for o.desk.Waiting() < 2 {
	}
	close(goOn)
	all.Wait()
	if err == nil {
		t.Error("a photo of no entry was kept")
	}
	if s := o.state(owner); s.Rev != 3 {
		t.Errorf("heard %d times", s.Rev)
	}
}

// script is a morning in which every kind of row is written.
func script(o *office) [][]desk.Raw {
	return [][]desk.Raw{
		{o.raw(staff1, "open"), o.raw(staff2, "card close")},
		{o.raw(staff1, "at 30m"), o.raw(staff1, "add two")},
		{o.raw(owner, "tell x"), o.raw(staff2, "edit card"), o.raw(staff1, "bad")},
		{o.raw(staff1, "over term:staff2"), o.raw(staff2, "add")},
	}
}

// checkScript wants every input of the script to have had its effect once.
func checkScript(t *testing.T, o *office, when string) {
	t.Helper()
	o.verify(5)
	for chat, want := range map[dialogsChat]int{staff1: 4, staff2: 4, owner: 1} {
		if got := o.state(chat).Rev; got != want {
			t.Errorf("%s: %s was heard %d times, want %d", when, chat, got, want)
		}
	}
	for query, want := range map[string]string{
		"SELECT count(*) FROM inbox WHERE status = 1": "8",
		"SELECT count(*) FROM inbox WHERE status = 2": "2", // and the one that belongs nowhere
		"SELECT count(*) FROM inbox WHERE status = 0": "0",
		"SELECT count(*) FROM outbox":                 "11",
		"SELECT count(*) FROM deadline":               "1",
	} {
		if got := o.ask(query); got != want {
			t.Errorf("%s: %s is %s, want %s", when, query, got, want)
		}
	}
}

// Whichever statement fails, once: what was promised is there once, what was
// not promised is handed in again, and the end is the same.
func TestAnyStatementFails(t *testing.T) {
	file := newOffice(t).closed()
	for n := 1; ; n += 6 / checks.Size(t, 1, 6, 6) {
		o := copyOffice(t, file)
		count := 0
		o.db.Interpose(func(query string) error {
			if count++; count == n {
				return fmt.Errorf("statement %d fails: %s", n, query)
			}
			return nil
		})
		for _, raws := range append(script(o), []desk.Raw{o.raw("", "catch up")}) {
			if _, err := o.desk.Take(context.Background(), raws); err != nil {
				o.take(raws...)
			}
		}
		reached := count
		o.db.Interpose(nil)
		checkScript(t, o, fmt.Sprintf("statement %d", n))
		ok(t, o.db.Close())
		if t.Failed() || reached < n {
			t.Logf("%d statements", reached)
			return
		}
	}
}

// Wherever the program ends, what was not confirmed is handed in again by
// whoever sent it, and every input has had its effect once.
func TestEndsAnywhere(t *testing.T) {
	file := newOffice(t).closed()
	for n := 1; ; n += 6 / checks.Size(t, 1, 6, 6) {
		o := copyOffice(t, file)
		count := 0
		o.db.Interpose(func(string) error {
			if count++; count >= n {
				return fmt.Errorf("the program has ended")
			}
			return nil
		})
		raws := script(o)
		for len(raws) > 0 {
			if _, err := o.desk.Take(context.Background(), raws[0]); err != nil || count >= n {
				break // as far as its sender knows
			}
			raws = raws[1:]
		}
		died := &office{t: t, path: t.TempDir() + "/shop.db", clock: o.clock, keys: o.keys}
		for _, end := range []string{"", "-wal"} {
			copyFile(t, o.path+end, died.path+end)
		}
		o.db.Interpose(nil)
		ok(t, o.db.Close())
		died.start()
		for _, r := range raws {
			died.take(r...)
		}
		died.take(died.raw("", "catch up"))
		checkScript(t, died, fmt.Sprintf("ended at statement %d", n))
		ok(t, died.db.Close())
		if t.Failed() || count < n {
			t.Logf("%d statements", count)
			return
		}
	}
}

// An input that ends the program is parked the third time it is begun.
func TestInputThatKills(t *testing.T) {
	o := newOffice(t)
	deadly, next := o.raw(staff1, "hi"), o.raw(staff2, "hi")
	for life := 1; life <= 4; life++ {
		begun := o.handled(t, deadly, next)
		if want := life < 4; begun != want {
			t.Fatalf("life %d: begun %t", life, begun)
		}
	}
	o.flush()
	if s := o.state(staff1); s.Rev != 0 {
		t.Errorf("staff1 was heard %d times", s.Rev)
	}
	if s := o.state(staff2); s.Rev != 1 {
		t.Errorf("staff2 was heard %d times", s.Rev)
	}
}
