// Package desk takes what comes in, lets the dialogs decide, keeps what
// follows and sends the answers. It decides nothing itself. Whatever an input
// leads to — state, records, messages — is in one commit, and a commit takes
// everything that is ready.
package desk

import (
	"context"
	"crypto/rand"
	"io"
	"log/slog"
	"math"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/desk/queue"
	"shopfloat/internal/desk/watch"
	"shopfloat/internal/shop"
	"shopfloat/internal/store"
)

// Step decides what an input leads to; it is dialogs.Step in the program. It
// must not change what it is given.
type Step func(chat.State, chat.Input, chat.Facts) chat.Result

// Raw is something that came in. Source and Key name it for good: the same one
// coming again is not taken again, and with another hash it is refused.
// An input without a chat belongs nowhere; only its key and the time are kept.
type Raw struct {
	Source string
	Key    string
	Hash   [32]byte // of what came in, as it came
	Input  chat.Input

	Machine shop.MachineID // Fate: of what comes from no chat
}

// Notice is the short answer to the tap that came in under a key.
type Notice struct {
	Key  string
	Text string
}

// Options are what a desk works with. Store, Step, Now and Random are needed.
type Options struct {
	Store  *store.DB
	Step   Step
	Now    func() time.Time
	Random io.Reader // salts
	Log    *slog.Logger

	// Key makes the codes of links out of what is kept for them; nil: drawn by lot. It
	// is never written down, so that nobody with the file has a link.
	Key []byte

	// Link makes the address that carries a code to the bot; nil: "start=" and the code.
	Link func(code string) string

	// Current reports whether all that people sent has been taken, as far as is
	// known. Old rows go only then: they tell what has been here before. Nil: it has.
	Current func() bool

	// Parked words the answer to an input that failed three times and what the
	// managers are told; nil: in English.
	Parked func(chat.Input, chat.Facts) []chat.Reply

	// Copied tells of the last copy of the file; nil, or giving nil: none is known of.
	Copied func() *chat.Copied

	// Proved tells a shop whether the records hold together; likewise.
	Proved func(shop.ID) *chat.Proved

	// Paper words what is said while nothing can be written; nil: in English.
	Paper func(Paper) string

	// Event words what people are told of something, whatever dialog it comes from.
	// Nil: nobody is told.
	Event func(chat.Event, chat.Facts) []chat.Reply
}

// Desk is safe for use by several goroutines. What they hand in at the same
// time goes into one commit.
type Desk struct {
	store  *store.DB
	reader *store.Reader
	step   Step
	now    func() time.Time
	random io.Reader
	log    *slog.Logger
	parked func(chat.Input, chat.Facts) []chat.Reply
	event  func(chat.Event, chat.Facts) []chat.Reply
	link   func(code string) string
	key    []byte

	current func() bool

	words  func(Paper) string
	copied func() *chat.Copied
	proved func(shop.ID) *chat.Proved
	paper  paper
	heard  map[chat.Chat]*heard // guarded by paper.mu
	halted chan struct{}        // closed when nothing will be written any more
	look   time.Duration        // how often Run looks at the file

	mu       sync.Mutex // guards jobs
	jobs     []*job
	lead     chan struct{} // holds a token while somebody commits
	queue    *queue.Queue
	flushing atomic.Bool  // receipts will be written soon
	commits  atomic.Int64 // so far
	inputs   atomic.Int64
	records  atomic.Int64
	givenUp  atomic.Int64

	// Of whoever holds the token:
	started   bool
	careful   bool      // store what comes in before it is handled: it may end the program
	latest    time.Time // the furthest the clock has been since it was seen to go back
	backlog   bool      // something waits in the inbox
	tidied    int64     // commits at the last tidying
	truncated int64     // commits when the log was emptied
	erased    bool      // something was erased that the log still holds
	watch     watch.Watch
}

// New makes a desk. It touches the store when it is first used.
func New(o Options) *Desk {
	d := &Desk{
		store: o.Store, reader: o.Store.Reader(), step: o.Step, now: o.Now, random: o.Random,
		log: o.Log, parked: o.Parked, link: o.Link, current: o.Current, lead: make(chan struct{}, 1), careful: true,
		key: o.Key, event: o.Event,
		words: o.Paper, copied: o.Copied, proved: o.Proved,
		paper: paper{lastRow: math.MinInt64}, heard: map[chat.Chat]*heard{},
		halted: make(chan struct{}), look: lookEvery, queue: queue.New(),
	}
	if d.event == nil {
		d.event = func(chat.Event, chat.Facts) []chat.Reply { return nil }
	}
	if d.key == nil {
		d.key = []byte(rand.Text())
	}
	if d.log == nil {
		d.log = slog.New(slog.DiscardHandler)
	}
	if d.link == nil {
		d.link = func(code string) string { return "start=" + code }
	}
	if d.current == nil {
		d.current = func() bool { return true }
	}
	if d.parked == nil {
		d.parked = apologize
	}
	if d.words == nil {
		d.words = plainly
	}
	return d
}

// Take puts what came in into the inbox and handles it. When it returns
// without an error, everything is durable and may be confirmed to whoever sent
// it; after an error nothing is promised and the same is to be handed in again.
func (d *Desk) Take(ctx context.Context, raws []Raw) ([]Notice, error) {
	if len(raws) == 0 {
		return nil, ctx.Err()
	}
	j := &job{raws: raws}
	err := d.submit(ctx, j)
	if err != nil {
		return d.onPaper(err, raws), err
	}
	if d.paper.on.Load() {
		d.offPaper(ctx)
	}
	return j.notices, nil
}

// Tick makes every deadline that is due an input, one each, by due time, and
// handles them. Those asked for meanwhile wait for the next Tick.
func (d *Desk) Tick(ctx context.Context) error {
	err := d.submit(ctx, &job{tick: true})
	if err != nil {
		d.onPaper(err, nil)
	}
	return err
}

// NextDue gives the time of the earliest deadline, which may be past.
func (d *Desk) NextDue(ctx context.Context) (due time.Time, ok bool, err error) {
	return d.reader.NextDue(ctx)
}

// Latest gives the newest instant of which the file tells; zero for a new file.
func (d *Desk) Latest(ctx context.Context) (time.Time, error) { return d.reader.Latest(ctx) }

// Open lists the chats with a dialog under way.
func (d *Desk) Open(ctx context.Context) ([]chat.Chat, error) { return d.reader.Open(ctx) }

// Silent lists those of them that have not been answered since an instant: their
// cards are to be redrawn when taps may have been lost until then.
func (d *Desk) Silent(ctx context.Context, since time.Time) ([]chat.Chat, error) {
	list, err := d.Open(ctx)
	return slices.DeleteFunc(list, func(c chat.Chat) bool { return d.spokeSince(c, since) }), err
}

// Vitals are figures of a desk at work, since its start.
type Vitals struct {
	Inputs, Commits, Records, Parked int64
	Unsent                           int
	Oldest                           time.Time // of the messages that wait; zero: none does
	OnPaper                          bool
}

// Vitals tells how the desk is.
func (d *Desk) Vitals() Vitals {
	v := Vitals{
		Inputs: d.inputs.Load(), Commits: d.commits.Load(), Records: d.records.Load(), Parked: d.givenUp.Load(),
		OnPaper: d.OnPaper() != nil,
	}
	v.Unsent, v.Oldest = d.queue.Waiting()
	return v
}

// Zone is the zone of the shop a chat belongs to; UTC for a stranger.
func (d *Desk) Zone(where chat.Chat) *time.Location {
	s, err := d.reader.Shop(context.Background(), where)
	if err != nil {
		return time.UTC
	}
	return s.Location
}
