package desk_test

import (
	"context"
	"crypto/rand"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"shopfloat/internal/books"
	"shopfloat/internal/chat"
	"shopfloat/internal/desk"
	"shopfloat/internal/store"
)

// BenchmarkTake takes one input of each of N shops at a time; a fifth of them
// record something, as in a dialog of five messages, and every reply is sent
// to nowhere meanwhile. fsyncs/s is how many small appends the same disk takes
// at the same time of day: figures are only to be compared with it beside them.
func BenchmarkTake(b *testing.B) {
	for _, n := range []int{1, 20, 200} {
		b.Run(fmt.Sprintf("chats=%d", n), func(b *testing.B) { benchmarkTake(b, n) })
	}
}

func benchmarkTake(b *testing.B, n int) {
	path := filepath.Join(b.TempDir(), "shop.db")
	db, err := store.Open(context.Background(), path, time.Now())
	ok(b, err)
	accounts := make([]store.ExampleAccounts, n)
	for i := range accounts {
		accounts[i].Owner = chat.Chat(fmt.Sprintf("tg:%d", 1000001+i))
	}
	ok(b, db.Seed(context.Background(), rand.Reader, time.Now(), accounts))
	d := desk.New(desk.Options{Store: db, Step: load, Now: time.Now, Random: rand.Reader})
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- d.Run(ctx, nowhere{}, desk.Pace{}) }()
	raws := make([]desk.Raw, n)
	round := func(k int) {
		for i := range raws {
			raws[i] = desk.Raw{Source: "tg", Key: fmt.Sprintf("%d-%d", k, i), Input: chat.Input{
				Chat: accounts[i].Owner, Kind: chat.Text, Text: "40 150 200", At: time.Now()}}
		}
		_, err := d.Take(ctx, raws)
		ok(b, err)
	}
	round(-1)
	b.ReportAllocs()
	k := 0
	for b.Loop() {
		round(k)
		k++
	}
	per := b.Elapsed() / time.Duration(k*n)
	b.ReportMetric(float64(time.Second)/float64(per), "inputs/s")
	b.ReportMetric(float64(per.Microseconds()), "µs/input")
	b.ReportMetric(probe(b), "fsyncs/s")
	stop()
	ok(b, <-done)
	ok(b, db.Close())
}

// probe appends 4 KiB and syncs, for a fifth of a second.
func probe(b *testing.B) float64 {
	f, err := os.Create(filepath.Join(b.TempDir(), "probe"))
	ok(b, err)
	defer func() { _ = f.Close() }()
	page, n, began := make([]byte, 4096), 0, time.Now()
	for ; time.Since(began) < time.Second/5; n++ {
		_, err := f.Write(page)
		ok(b, err)
		ok(b, f.Sync())
	}
	return float64(n) / time.Since(began).Seconds()
}

type nowhere struct{}

func (nowhere) Send(_ context.Context, o desk.Out) (int64, error) { return o.ID, nil }

// load is a dialog of five messages with a card that changes and a record at the end.
func load(s chat.State, in chat.Input, f chat.Facts) (r chat.Result) {
	s.V, s.Machine, s.Flow, s.Step, s.Rev, s.Last = 1, f.Machine.ID, "opening", "counts", s.Rev+1, in.At
	s.Draft.Counts = map[string][]int64{"loaded": {40, 150, 200}, "tray": {-1, -1, -1}}
	reply := chat.Reply{
		Body:    []chat.Block{{Text: strings.Repeat("Please check. ", 12)}},
		Buttons: [][]chat.Button{{{Label: "Confirm", Data: "1.yes"}}, {{Label: "Change", Data: "1.change"}}},
		Key:     "card",
	}
	switch s.Rev % 5 {
	case 0:
		s.Flow = ""
		kind, figures := books.TopUp, boxes(books.Added, 0, 1, 1)
		if f.Machine.Open == 0 {
			kind, figures = books.Opening, boxes(books.Loaded, 40, 150, 200)
		}
		r.Records = []books.Record{{Kind: kind, Period: f.Machine.Open, Happened: in.At, Figures: figures}}
		r.Deadlines = []chat.Deadline{{Name: "close", At: in.At.Add(14 * time.Hour)}}
		reply.Edit, reply.Key = "card", ""
	case 3:
		reply.Edit, reply.Key = "card", ""
	}
	r.State, r.Replies = s, []chat.Reply{reply}
	return r
}
