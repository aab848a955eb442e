package desk

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"shopfloat/internal/chat"
	"shopfloat/internal/store"
)

// Says is what is said while nothing can be written.
type Says int

// What is said.
const (
	PaperWrite Says = iota // to whoever wrote: do it on paper
	PaperOwner             // to owners: why
	PaperBack              // to all who were told to use paper: not any more
)

// Paper is what the sentence is made of that people get while nothing can be written.
type Paper struct {
	Says  Says
	Lang  string
	Name  string    // who spoke; empty: not known
	At    time.Time // in the shop's zone
	Typed []string  // in the dialog that is under way, and now
	Why   string
	Full  bool // the disk's fault, which may pass; else the program ends
}

// Bounds of the time in which nothing can be written.
const (
	answeredMax = 10_000 // inputs remembered as answered
	haltLeast   = 3 * time.Second
	haltMost    = 8 * time.Second
)

// paper is the time in which nothing can be written.
type paper struct {
	mu       sync.Mutex
	on       atomic.Bool
	doubt    *store.Doubt
	told     map[chat.Chat]string // who was told to use paper, and their language
	wrote    map[chat.Chat]bool   // who was told what to write down
	answered map[string]bool      // inputs, by source and key: they are handed in again and again
	lastRow  int64                // of the messages that stand in no outbox, all below 0
}

// halt notes that nothing will be written any more, if err says so.
func (d *Desk) halt(err error) {
	var doubt *store.Doubt
	if !errors.As(err, &doubt) {
		return
	}
	d.paper.mu.Lock()
	first := d.paper.doubt == nil
	d.paper.doubt = doubt
	d.paper.mu.Unlock()
	if first {
		d.log.Error("writing was stopped", "why", doubt.What, "cause", doubt.Cause)
		d.queue.DropAll() // it tells of what may be lost
		d.onPaper(err, nil)
		close(d.halted)
	}
}

// onPaper answers what cannot be written, from memory alone, and gives short
// notices for taps. It does so where err says that the file or the disk is at
// fault; anything else is tried again by whoever handed it in.
func (d *Desk) onPaper(err error, raws []Raw) []Notice {
	var doubt *store.Doubt
	if !errors.As(err, &doubt) && !store.DiskFault(err) {
		return nil
	}
	why, full := "The disk is full, or fails", true
	if doubt != nil {
		why, full = doubt.What, false
	}
	d.paper.mu.Lock()
	defer d.paper.mu.Unlock()
	p := &d.paper
	if !p.on.Load() {
		p.told, p.wrote = map[chat.Chat]string{}, map[chat.Chat]bool{}
		p.on.Store(true)
		p.answered = map[string]bool{}
		d.log.Error("nothing can be written; people are told to use paper", "why", why)
		d.tellOwners(why, full)
	}
	var notices []Notice
	for _, r := range raws {
		if text := d.answerOnPaper(r, why, full); text != "" && r.Input.Kind == chat.Press {
			notices = append(notices, Notice{Key: r.Key, Text: firstLine(text)})
		}
	}
	return notices
}

// answerOnPaper says what to write down, once for each input. Strangers hear nothing.
func (d *Desk) answerOnPaper(r Raw, why string, full bool) string {
	p, key := &d.paper, r.Source+" "+r.Key
	if r.Input.Chat == "" || p.answered[key] || len(p.answered) >= answeredMax || r.Input.Kind == chat.Redraw {
		return ""
	}
	h := d.heard[r.Input.Chat]
	if h == nil {
		if h = d.lookUp(r.Input.Chat); h == nil {
			return ""
		}
		d.heard[r.Input.Chat] = h
	}
	p.answered[key] = true
	text := d.words(Paper{
		Says: PaperWrite, Lang: h.lang, Name: h.name, At: r.Input.At.In(h.zone), Typed: h.said(r.Input),
		Why: why, Full: full,
	})
	if !p.wrote[r.Input.Chat] || r.Input.Kind != chat.Press {
		p.wrote[r.Input.Chat] = true
		d.sayUnwritten(r.Input.Chat, text, false)
	}
	p.told[r.Input.Chat] = h.lang
	return text
}

// lookUp finds out about a chat that has not been heard of since the start; nil
// for a stranger. What cannot be read leaves a chat that is answered all the same.
func (d *Desk) lookUp(where chat.Chat) *heard {
	h := &heard{lang: "en", zone: time.UTC, code: true}
	s, err := d.reader.Shop(context.Background(), where)
	if errors.Is(err, store.ErrNone) {
		return nil
	}
	if err == nil {
		h.zone = s.Location
	}
	return h
}

func (d *Desk) tellOwners(why string, full bool) {
	owners, err := d.reader.Owners(context.Background(), 0)
	if err != nil {
		d.log.Error("owners could not be found; those are told who were heard since the start", "err", err)
		for where, h := range d.heard {
			if h.owner {
				owners = append(owners, where)
			}
		}
	}
	for _, where := range owners {
		lang := "en"
		if h := d.heard[where]; h != nil {
			lang = h.lang
		}
		d.sayUnwritten(where, d.words(Paper{Says: PaperOwner, Lang: lang, Why: why, Full: full}), true)
		d.paper.told[where] = lang
	}
}

// sayUnwritten sends a message that stands in no outbox.
func (d *Desk) sayUnwritten(where chat.Chat, text string, urgent bool) {
	d.paper.lastRow++
	d.queue.Add([]store.Message{{
		ID: d.paper.lastRow, Chat: where, At: d.now(),
		Reply: chat.Reply{Body: []chat.Block{{Text: text}}, Urgent: urgent},
	}})
}

// offPaper tells all who were told to use paper that it works again.
func (d *Desk) offPaper(ctx context.Context) {
	d.paper.mu.Lock()
	told := d.paper.told
	on := d.paper.on.Load() && d.paper.doubt == nil
	if on {
		d.paper.on.Store(false)
		d.paper.told, d.paper.wrote, d.paper.answered = nil, nil, nil
	}
	d.paper.mu.Unlock()
	if !on {
		return
	}
	d.log.Info("it can be written again")
	if err := d.TellBack(ctx, told); err != nil {
		d.log.Error("people could not be told so", "err", err)
	}
}

// OnPaper gives who was told to use paper and was not told yet that it works
// again, with their languages.
func (d *Desk) OnPaper() map[chat.Chat]string {
	d.paper.mu.Lock()
	defer d.paper.mu.Unlock()
	return d.paper.told
}

// TellBack tells people who were told to use paper that it works again.
func (d *Desk) TellBack(ctx context.Context, told map[chat.Chat]string) error {
	list := make(map[chat.Chat]chat.Reply, len(told))
	for where, lang := range told {
		list[where] = chat.Reply{Body: []chat.Block{{Text: d.words(Paper{Says: PaperBack, Lang: lang})}}}
	}
	return d.Announce(ctx, "back", list)
}

// Announce puts words into the outbox that come from the program itself.
func (d *Desk) Announce(ctx context.Context, what string, words map[chat.Chat]chat.Reply) error {
	if len(words) == 0 {
		return nil
	}
	chats := make([]chat.Chat, 0, len(words))
	for where := range words {
		chats = append(chats, where)
	}
	slices.Sort(chats)
	key := what + " " + strconv.FormatInt(d.now().UnixNano(), 10)
	for part := range slices.Chunk(chats, 500) {
		err := d.submit(ctx, &job{words: &announcement{key + " " + string(part[0]), part, words}})
		if err != nil {
			return fmt.Errorf("announce: %w", err)
		}
	}
	return nil
}

// announcement is words for several chats, under one key of the inbox.
type announcement struct {
	key   string
	chats []chat.Chat
	words map[chat.Chat]chat.Reply
}

func (b *batch) announce(a *announcement) error {
	cause, fresh, err := b.tx.Handled(store.Arrival{Source: "program", Key: a.key})
	if err != nil || !fresh {
		return err
	}
	for n, where := range a.chats {
		if err := b.send(cause, n, where, a.words[where]); err != nil {
			return err
		}
	}
	return nil
}

// atHalt ends the senders when nothing will be written any more: once all that
// is to be said is said, but not before those were answered who were typing.
func (r *run) atHalt(ctx context.Context) {
	select {
	case <-ctx.Done():
		return
	case <-r.desk.halted:
	}
	over := time.After(haltMost)
	tick := time.NewTicker(100 * time.Millisecond)
	defer tick.Stop()
	for began := 0 * time.Millisecond; ; began += 100 * time.Millisecond {
		select {
		case <-ctx.Done():
			return
		case <-over:
		case <-tick.C:
			if n, _ := r.desk.queue.Waiting(); n > 0 || began < haltLeast {
				continue
			}
		}
		r.desk.paper.mu.Lock()
		doubt := r.desk.paper.doubt
		r.desk.paper.mu.Unlock()
		r.stop(doubt)
		return
	}
}

func firstLine(text string) string {
	for i, r := range text {
		if r == '\n' {
			return text[:i]
		}
	}
	return text
}
