package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"shopfloat/internal/botapitest"
	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// owner1 is the account of the first test shop's owner; the others' follow.
const owner1 = 1_000_001

// seeded writes example shops into a new file.
func seeded(t *testing.T, shops int) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "shop.db")
	db, err := store.Open(t.Context(), file, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	list := make([]store.ExampleAccounts, shops)
	for i := range list {
		list[i].Owner = chat.Chat(fmt.Sprintf("tg:%d", owner1+i))
	}
	if err := db.Seed(t.Context(), rand.Reader, time.Now(), list); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	return file
}

// standIn serves the chat platform; everybody has written to the bot before.
func standIn(t *testing.T, people ...int64) *botapitest.Server {
	t.Helper()
	srv := botapitest.New(botapitest.Options{Clock: time.Now})
	if err := srv.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(srv.Close)
	for _, id := range people {
		srv.AddUser(id, fmt.Sprint("Person ", id))
	}
	return srv
}

// person is somebody with a phone. The platform lets taps lapse after a while
// of its own clock, which is the computer's here.
type person struct {
	t   *testing.T
	srv *botapitest.Server
	id  int64
}

const patience = time.Minute

// sees waits until the newest message from the bot holds a text, in capitals or not.
func (p person) sees(part string) botapitest.Message {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.t.Context(), patience)
	defer cancel()
	var m botapitest.Message
	err := p.srv.WaitFor(ctx, func(v botapitest.Snapshot) bool {
		m, _ = v.Last(p.id)
		return strings.Contains(strings.ToLower(m.Text), strings.ToLower(part))
	})
	if err != nil {
		p.t.Errorf("person %d waited for %q and sees %q: %v", p.id, part, m.Text, err)
	}
	return m
}

// heard waits until some message of the bot, the newest or an earlier one, holds a text.
func (p person) heard(part string) {
	p.t.Helper()
	p.hears(part, 0)
}

// asks sends a text and waits for an answer, behind which the card of a dialog may come again at once.
func (p person) asks(what, want string) {
	p.t.Helper()
	before := 0
	p.srv.View(func(v botapitest.Snapshot) { before = p.told(v, want) })
	p.srv.SendText(p.id, what)
	p.hears(want, before)
}

// hears waits until more than so many messages of the bot hold a text.
func (p person) hears(part string, before int) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.t.Context(), patience)
	defer cancel()
	err := p.srv.WaitFor(ctx, func(v botapitest.Snapshot) bool { return p.told(v, part) > before })
	if err != nil {
		p.t.Errorf("person %d never heard %q, but for %d times before: %v", p.id, part, before, err)
	}
}

// told is how many messages of the bot hold a text.
func (p person) told(v botapitest.Snapshot, part string) (n int) {
	for _, m := range v.Messages(p.id) {
		if m.FromBot && strings.Contains(m.Text, part) {
			n++
		}
	}
	return n
}

// does sends a text, or taps the newest button whose label begins with what
// stands in square brackets, and waits for an answer.
func (p person) does(what, want string) botapitest.Message {
	p.t.Helper()
	if label, tap := strings.CutPrefix(what, "["); tap {
		p.tap(strings.TrimSuffix(label, "]"))
	} else {
		p.srv.SendText(p.id, what)
	}
	return p.sees(want)
}

func (p person) tap(label string) {
	p.t.Helper()
	var found bool
	var message int
	var data string
	p.srv.View(func(v botapitest.Snapshot) {
		if m, ok := v.Last(p.id); ok {
			message = m.ID
			data, found = button(m, label)
		}
	})
	if !found {
		p.t.Errorf("person %d: no button %q", p.id, label)
		return
	}
	p.srv.TapData(p.id, p.id, message, data)
}

func button(m botapitest.Message, label string) (data string, found bool) {
	for _, row := range m.Buttons {
		for _, b := range row {
			if strings.HasPrefix(b.Text, label) {
				return b.Data, true
			}
		}
	}
	return "", false
}

// day is a day at the example shop: what the owner does, and part of the
// answer. An empty label is the first button's.
func day() [][2]string {
	return [][2]string{
		{"open", "top box"}, {"40", "middle box"}, {"150", "bottom box"}, {"200", "€7,000"},
		{"[Confirm]", "recorded"}, {"[All done]", "how were"},
		{"[]", "Where are these notes"}, {"[Back", "as paid out"}, {"[No", "Everything is done"},
		{"topup 0 50 0", "€1,000"}, {"[Confirm]", "Top-up recorded"},
		{"close 10 100 80", "Box for refused notes"}, {"[I looked: nothing there]", "Count in"},
		{"30x50 100x20 120x10", "It balances"},
		{"[Confirm]", "recorded"}, {"[All done]", "Everything is done"},
	}
}

// lives does what a day asks for, until something fails.
func (p person) lives(steps [][2]string) {
	p.t.Helper()
	for _, s := range steps {
		if p.t.Failed() {
			return
		}
		p.does(s[0], s[1])
	}
}

// program is the bot at work within the test.
type program struct {
	stderr locked
	stop   context.CancelFunc
	code   chan int
}

// locked is a buffer for several goroutines.
type locked struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *locked) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *locked) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// serve starts the bot on a file and a server.
func serve(t *testing.T, srv *botapitest.Server, file string, more ...string) *program {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	p := &program{stop: cancel, code: make(chan int, 1)}
	args := append([]string{"serve", "--token", srv.Token(), "--api-url", srv.URL(), "--db", file,
		"--rate", "0"}, more...)
	go func() {
		p.code <- run(&env{ctx: ctx, stdin: strings.NewReader(""), stdout: &p.stderr, stderr: &p.stderr}, args)
	}()
	return p
}

// end tells the bot to stop and gives its exit code.
func (p *program) end() int {
	p.stop()
	return <-p.code
}

// reportsOn gives what verify finds in a file.
func reportsOn(t *testing.T, file string) []store.MachineReport {
	t.Helper()
	r, err := store.OpenReader(t.Context(), file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	reports, err := r.Verify(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return reports
}

// verified gives the reports of a file in which there must be no fault.
func verified(t *testing.T, file string) []store.MachineReport {
	t.Helper()
	reports := reportsOn(t, file)
	for _, rep := range reports {
		if len(rep.Faults) > 0 {
			t.Errorf("machine %d: %v", rep.Machine, rep.Faults)
		}
	}
	return reports
}
