package desk_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"shopfloat/internal/desk"
	"shopfloat/internal/store"
)

// line is a sender that notes when what was sent, in a bubble's time.
type line struct {
	mu    sync.Mutex
	began time.Time
	log   []string
	busy  map[dialogsChat]bool
	takes time.Duration
	fate  func(desk.Out) error
}

func (l *line) Send(ctx context.Context, out desk.Out) (int64, error) {
	l.mu.Lock()
	if l.busy[out.Chat] {
		l.log = append(l.log, fmt.Sprintf("two on their way to %s", out.Chat))
	}
	l.busy[out.Chat] = true
	l.log = append(l.log, fmt.Sprintf("%s %s %s", time.Since(l.began), out.Chat, out.Reply.Body[0].Text))
	fate := l.fate
	l.mu.Unlock()
	if l.takes > 0 {
		select {
		case <-time.After(l.takes):
		case <-ctx.Done():
			return 0, ctx.Err()
		}
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.busy[out.Chat] = false
	if fate != nil {
		if err := fate(out); err != nil {
			return 0, err
		}
	}
	return out.ID, nil
}

// serving is a desk that sends, inside a bubble.
type serving struct {
	*office
	line *line
	stop context.CancelFunc
	done chan error

	behind atomic.Bool // what people sent may wait to be taken
}

// serve runs fn in a bubble with a desk that is sending. The office's clock is the bubble's.
func serve(t *testing.T, p desk.Pace, fn func(*serving)) {
	synctest.Test(t, func(t *testing.T) {
		o := newOffice(t)
		l := &line{began: time.Now(), busy: map[dialogsChat]bool{}}
		s := &serving{office: o, line: l, done: make(chan error, 1)}
		o.desk = desk.New(desk.Options{
			Store: o.db, Step: step, Random: rand.NewChaCha8([32]byte{}), Now: time.Now,
			Current: func() bool { return !s.behind.Load() }})
		o.desk.LookEvery(time.Minute)
		var ctx context.Context
		ctx, s.stop = context.WithCancel(context.Background())
		s.say(owner, "hi")
		s.shown()
		go func() { s.done <- o.desk.Run(ctx, s.line, p) }()
		synctest.Wait()
		fn(s)
		s.stop()
		if s.done != nil {
			if err := <-s.done; err != nil {
				t.Error(err)
			}
		}
		ok(t, o.db.Close())
	})
}

func (s *serving) take(chats []dialogsChat, word string) {
	s.t.Helper()
	var raws []desk.Raw
	for _, c := range chats {
		raws = append(raws, s.raw(c, word))
	}
	s.office.take(raws...)
}

func (s *serving) want(want ...string) {
	s.t.Helper()
	s.line.mu.Lock()
	defer s.line.mu.Unlock()
	if !slices.Equal(s.line.log, want) {
		s.t.Errorf("sent %q\nwant %q", s.line.log, want)
	}
	s.line.log = nil
}

// fate says what becomes of messages from now on.
func (s *serving) fate(fn func(desk.Out) error) {
	s.line.mu.Lock()
	defer s.line.mu.Unlock()
	s.line.fate = fn
}

func TestPaceInAChat(t *testing.T) {
	serve(t, desk.Pace{Rate: 1000}, func(s *serving) {
		s.take(slices.Repeat([]dialogsChat{staff1}, 8), "hi")
		time.Sleep(10 * time.Second)
		var want []string
		for _, at := range []string{"0s", "1ms", "2ms", "3ms", "4ms", "1s", "2s", "3s"} {
			want = append(want, at+" term:staff1 hi!")
		}
		s.want(want...)
		time.Sleep(time.Minute) // the allowance is full again
		s.take(slices.Repeat([]dialogsChat{staff1}, 2), "hi")
		time.Sleep(time.Second)
		s.want("1m10s term:staff1 hi!", "1m10.001s term:staff1 hi!")
	})
}

func TestPaceOverall(t *testing.T) {
	serve(t, desk.Pace{Rate: 2}, func(s *serving) {
		s.take([]dialogsChat{staff1, staff2, owner, staff1}, "hi")
		time.Sleep(10 * time.Second)
		s.want("0s term:staff1 hi!", "500ms term:staff2 hi!", "1s term:owner hi!", "1.5s term:staff1 hi!")
	})
}

func TestNoPace(t *testing.T) {
	serve(t, desk.Pace{}, func(s *serving) {
		s.line.takes = time.Millisecond
		s.take(slices.Repeat([]dialogsChat{staff1}, 4), "hi")
		time.Sleep(time.Second)
		s.want("0s term:staff1 hi!", "1ms term:staff1 hi!", "2ms term:staff1 hi!", "3ms term:staff1 hi!")
	})
}

// A chat that is to be left alone for a while holds up no other.
func TestLater(t *testing.T) {
	serve(t, desk.Pace{}, func(s *serving) {
		s.fate(func(o desk.Out) error {
			if o.Chat == staff1 {
				return fmt.Errorf("too many requests: %w", &desk.Later{After: 7 * time.Second})
			}
			return nil
		})
		s.take([]dialogsChat{staff1, staff2}, "hi")
		time.Sleep(time.Second)
		s.fate(nil)
		s.take([]dialogsChat{staff1}, "again")
		time.Sleep(10 * time.Second)
		s.line.mu.Lock()
		slices.Sort(s.line.log)
		s.line.mu.Unlock()
		s.want("0s term:staff1 hi!", "0s term:staff2 hi!", "7s term:staff1 again!", "7s term:staff1 hi!")
	})
}

func TestBackOff(t *testing.T) {
	serve(t, desk.Pace{}, func(s *serving) {
		s.fate(func(desk.Out) error { return errors.New("connection refused") })
		s.take([]dialogsChat{staff1}, "hi")
		time.Sleep(4 * time.Minute)
		var want []string
		for _, at := range []string{"0s", "1s", "3s", "7s", "15s", "31s", "1m3s", "2m3s", "3m3s"} {
			want = append(want, at+" term:staff1 hi!")
		}
		s.want(want...)
		s.fate(nil)
		time.Sleep(time.Minute)
		s.want("4m3s term:staff1 hi!")
		time.Sleep(time.Hour)
		s.want()
	})
}

// What is on its way to somebody just cut off is not tried again; what is for
// them later is sent.
func TestCutOffOnItsWay(t *testing.T) {
	for name, fault := range map[string]error{
		"network": errors.New("connection cut"), "too many": &desk.Later{After: 7 * time.Second},
	} {
		serve(t, desk.Pace{}, func(s *serving) {
			s.line.takes = time.Second
			s.fate(func(desk.Out) error { return fault })
			s.take([]dialogsChat{staff1}, "card close")
			s.take([]dialogsChat{staff1}, "hi")
			synctest.Wait()
			s.take([]dialogsChat{owner}, "freeze")
			time.Sleep(2 * time.Second)
			s.fate(nil)
			time.Sleep(time.Hour)
			s.line.mu.Lock()
			n := strings.Count(strings.Join(s.line.log, "\n"), string(staff1))
			s.line.log = nil
			s.line.mu.Unlock()
			if n != 1 {
				t.Errorf("%s: %d tries, want the one that was under way", name, n)
			}
			s.take([]dialogsChat{staff1}, "hi")
			time.Sleep(time.Minute)
			s.want("1h0m2s term:staff1 private")
		})
	}
}

func TestGiveUp(t *testing.T) {
	serve(t, desk.Pace{}, func(s *serving) {
		s.fate(func(desk.Out) error { return errors.New("connection refused") })
		s.take([]dialogsChat{staff1}, "hi")
		time.Sleep(49 * time.Hour)
		s.line.mu.Lock()
		s.line.log = nil
		s.line.mu.Unlock()
		time.Sleep(24 * time.Hour)
		s.want()
		if n := s.ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL"); n != "0" {
			t.Errorf("%s messages wait", n)
		}
	})
}

func TestStop(t *testing.T) {
	serve(t, desk.Pace{}, func(s *serving) {
		s.fate(func(desk.Out) error { return fmt.Errorf("unauthorized: %w", desk.ErrStop) })
		s.take([]dialogsChat{staff1}, "hi")
		if err := <-s.done; !errors.Is(err, desk.ErrStop) {
			t.Errorf("error %v", err)
		}
		s.done = nil
		if n := s.ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL"); n != "1" {
			t.Errorf("%s messages are kept", n)
		}
	})
}

// The end waits for what is on its way, but not for ever, and its receipt is written.
func TestEnd(t *testing.T) {
	for takes, kept := range map[time.Duration]string{3 * time.Second: "0", time.Hour: "1"} {
		serve(t, desk.Pace{}, func(s *serving) {
			s.line.takes = takes
			s.take([]dialogsChat{staff1}, "hi")
			synctest.Wait()
			s.stop()
			if err := <-s.done; err != nil && takes < time.Minute {
				t.Error(err)
			}
			s.done = nil
			if d := time.Since(s.line.began); d > 5*time.Second {
				t.Errorf("the end took %s", d)
			}
			if n := s.ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL"); n != kept {
				t.Errorf("sending takes %s: %s messages are kept, want %s", takes, n, kept)
			}
		})
	}
}

// Receipts ride on the next commit, or are written after a moment without one.
func TestReceipts(t *testing.T) {
	serve(t, desk.Pace{}, func(s *serving) {
		before := commits(t, s.path)
		s.take([]dialogsChat{staff1}, "hi")
		synctest.Wait()
		s.take([]dialogsChat{staff1}, "hi")
		synctest.Wait()
		if got := commits(t, s.path) - before; got != 2 {
			t.Errorf("two inputs took %d commits", got)
		}
		if n := s.ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL"); n != "1" {
			t.Errorf("%s receipts wait", n)
		}
		time.Sleep(300 * time.Millisecond)
		if n := s.ask("SELECT count(*) FROM outbox WHERE body IS NOT NULL"); n != "0" {
			t.Errorf("%s receipts wait", n)
		}
	})
}

// When nothing happens the log is emptied, and with it what was pruned.
func TestLogIsEmptied(t *testing.T) {
	serve(t, desk.Pace{}, func(s *serving) {
		s.take([]dialogsChat{staff1}, "hi")
		time.Sleep(5 * time.Minute)
		info, err := os.Stat(s.path + "-wal")
		if err != nil || info.Size() != 0 {
			t.Errorf("the log holds %d bytes, %v", info.Size(), err)
		}
	})
}

// Old rows stay while something may come again that they tell of, and go soon after.
func TestPruneWaits(t *testing.T) {
	serve(t, desk.Pace{}, func(s *serving) {
		s.take([]dialogsChat{staff1, staff2}, "hi")
		rows := func(when, want string) {
			t.Helper()
			if n := s.ask("SELECT count(*) FROM inbox"); n != want {
				t.Errorf("%s: %s rows, want %s", when, n, want)
			}
		}
		s.behind.Store(true)
		time.Sleep(50 * time.Hour)
		rows("behind", "3")
		s.behind.Store(false)
		time.Sleep(2 * time.Minute)
		rows("all is taken", "1")
	})
}

// A message of the last run is tried as long as one of this run: the clock may
// be wrong and the network not there yet.
func TestOldMessageIsTriedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		o := newOffice(t)
		o.take(o.raw(staff1, "hi"))
		ok(t, o.db.Close())
		db, err := store.Open(context.Background(), o.path, time.Now())
		ok(t, err)
		ctx, stop := context.WithCancel(context.Background())
		l := &line{began: time.Now(), busy: map[dialogsChat]bool{}}
		l.fate = func(desk.Out) error {
			if len(l.log) == 1 {
				return errors.New("connection refused")
			}
			return nil
		}
		done := make(chan error, 1)
		d := desk.New(desk.Options{Store: db, Step: step, Random: rand.NewChaCha8([32]byte{}),
			Now: func() time.Time { return sixOClock.AddDate(0, 1, 0).Add(time.Since(l.began)) }})
		go func() { done <- d.Run(ctx, l, desk.Pace{}) }()
		time.Sleep(5 * time.Second)
		stop()
		ok(t, <-done)
		ok(t, db.Close())
		if want := []string{"0s term:staff1 hi!", "1s term:staff1 hi!"}; !slices.Equal(l.log, want) {
			t.Errorf("sent %q", l.log)
		}
	})
}

// What a killed program left unsent is sent by the next one.
func TestRunAfterKill(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		o := newOffice(t)
		o.take(o.raw(staff1, "hi"), o.raw(staff1, "card close"))
		ok(t, o.db.Close())
		db, err := store.Open(context.Background(), o.path, time.Now())
		ok(t, err)
		ctx, stop := context.WithCancel(context.Background())
		l := &line{began: time.Now(), busy: map[dialogsChat]bool{}}
		done := make(chan error, 1)
		d := desk.New(desk.Options{Store: db, Step: step, Random: rand.NewChaCha8([32]byte{}), Now: time.Now})
		go func() { done <- d.Run(ctx, l, desk.Pace{}) }()
		time.Sleep(time.Second)
		stop()
		ok(t, <-done)
		ok(t, db.Close())
		if want := []string{"0s term:staff1 hi!", "0s term:staff1 card close"}; !slices.Equal(l.log, want) {
			t.Errorf("sent %q", l.log)
		}
	})
}
